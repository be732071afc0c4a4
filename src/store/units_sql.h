/*
 * units_sql.h - SQL over the batches and units a unit is made of.  Private to
 * src/store.
 */
#ifndef STORE_UNITS_SQL_H
#define STORE_UNITS_SQL_H

/* Units that hold food of batch :batch, alone or with others. */
#define UNITS_OF_BATCH                                                         \
	"(SELECT w.portion_id FROM batch_unit w WHERE w.batch_id = :batch)"

/* Is the unit `p` of breakdown :prep?  0 asks for no one breakdown. */
#define OF_PREP                                                                \
	"(:prep = 0 OR p.id IN (SELECT v.portion_id FROM prep_unit v"          \
	"  WHERE v.prep_id = :prep))"

/* The unit `p` is a tray that was put together from others. */
#define IS_JOINED                                                              \
	"EXISTS (SELECT 1 FROM portion_joined n WHERE n.portion_id = p.id)"

#endif /* STORE_UNITS_SQL_H */
