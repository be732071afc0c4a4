#!/bin/sh
# How long records must be kept, and their removal: refused in doubt, whole
# chains, written down, and sound afterwards.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"

kitchen
take_in COD whole 10 20kg -
old=$batch
take_in COD whole 10 20kg -
stays=$batch
does discard "$old" --reason spoilt --by AK
mkdir stick

# Two years are 731 days at most, counted from the end of the use-by: four days
# of house life make that 2026-11-29, so it may go on 2028-11-30 and not the day
# before.  Source of the figure: config/rules/us-food-code.ini.
does prune
expect_out '731 days  deliveries, breakdowns, portions (731 by 21 CFR 1.1455'
expect_out '731 days  shellfish tags (90 by US FDA Food Code)'
expect_out 'May go, of before 2024-11-25:
  nothing'
refuses 3 '2026-11-27: records are kept 731 days .*2024-11-25 is the latest' \
    prune --before 2026-11-27
refuses 2 'is missing' prune --yes
refuses 2 'today' prune --yes --by AK

for day in 2028-11-23 2028-11-24 2028-11-25 2028-11-26 2028-11-27; do
	take_in COD whole 10 20kg -
	does discard "$batch" --reason spoilt --by AK
done
day=2028-11-29
does --json prune
expect_is "$(get batches)" 0
day=2028-11-30
does --json prune
expect_is "$(get batches)" 1
expect_is "$(get before)" 2026-11-30
does prune
expect_out 'batches: 1'
expect_out 'stays: 1, something of them is on hand'
expect_out 'Nothing is removed until you add --yes.'
does --json prune --before 2026-11-29
expect_is "$(get batches)" 0

refuses 3 'no backup of the last 24 hours' \
    prune --yes --by AK --today 2028-11-30
does backup stick --by AK
mv stick/pinbone-2028-11-30-0001.db away
refuses 3 'put its stick in' prune --yes --by AK --today 2028-11-30
mv away stick/pinbone-2028-11-30-0001.db
refuses 3 'you say 2028-11-29, the clock reads Thursday 30 November 2028' \
    prune --yes --by AK --today 2028-11-29
refuses 3 'records are kept 731 days' \
    prune --yes --by AK --today 2028-11-30 --before 2026-12-01

does prune --yes --by AK --today 2028-11-30
expect_out 'Removed:
  batches: 1'
refuses 4 'is not in this station file' trace "$old"
does trace "$stays"
does log --last 3
expect_out "prune    $old"
expect_out '1 batch of 2026-11-26 to 2026-11-26'
does --json prune
expect_is "$(get by)" AK
expect_out '"backup": "stick/pinbone-2028-11-30-0001.db"'
# Every link leads somewhere, and the backup has what went.
expect_is "$(sqlite3 k.db 'SELECT count(*) FROM pragma_foreign_key_check')" 0
expect_is "$(sqlite3 "file:stick/pinbone-2028-11-30-0001.db?mode=ro" \
    "SELECT count(*) FROM batch WHERE code = '$(echo "$old" | tr -d -)'")" 1
# Nobody removes it by hand, nor what was written of it.
for change in 'DELETE FROM batch' 'DELETE FROM pruned' 'DELETE FROM pruning' \
    'UPDATE pruned SET total = 9'; do
	! sqlite3 k.db "$change" 2>/dev/null || fail "done: $change"
	pass "$change"
done

# A house may keep longer, never shorter.
settings 'sales_days = 730'
p prune
expect_status 3
expect_err 'sales_days = 730 would be shorter than 731 days'
settings 'records_days = 4000'
does prune
expect_out '4000 days  deliveries, breakdowns, portions'
expect_out 'The longest binds: 4000 days, the house: [keeping] records_days.'
