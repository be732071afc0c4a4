# The record against its trail; the trail against paper; and the digests worked
# out by b2sum and sqlite3 alone, from the recipe of docs/trail.md.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"

settings
kitchen
take_in COD whole 3 2400 -
cod=$batch
does --json prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:3:360 \
    --waste 200
one=$(get code)
does hold "$one" --reason 'smells of café' --by AK

# --- nothing was done to it -------------------------------------------------

does verify
expect_out 'not as recorded: 0'
expect_out 'the trail ends with row'
does --json verify
expect_out '"found": 0'
code=$(get code)
row=$(get row)
does verify --paper "$code"
expect_out "the paper is of row $row; rows since: 0"
# As wet hands key it.
does verify --paper "$(echo "$code" | tr 'A-Z-' 'a-z ')"

# --- the day sheet carries it ------------------------------------------------

does ticket day
expect_out "Audit trail, row $row"
expect_out "$code"
does release "$one" --reason 'it was the crate' --by AK
does verify --paper "$code"
expect_out "the paper is of row $row; rows since: 1"

# --- what cannot be a code, and what is not in the trail ---------------------

p verify --paper 12AB
expect_status 2
p verify --paper "$(echo "$code" | sed 's/^./'"$(
    case $code in 0*) echo 1 ;; *) echo 0 ;; esac)"'/')"
expect_status 2
run --config station.ini --db other.db --now "${day}T$at" init
run --config station.ini --db other.db --now "${day}T$at" verify --paper "$code"
expect_status 1
grep -q 'no row of this trail has the code' errf || fail 'not said'
pass

# --- before and after, for a person ------------------------------------------

does log --last 1 --changes
expect_out '~ hold 1: released_by none -> "AK"'
does --json log --last 1 --changes
expect_out '"did": "changed"'
expect_out '"table": "hold"'

# --- by the recipe -----------------------------------------------------------

if has b2sum && has sqlite3; then
	net="length(CAST(X AS BLOB)) || ':' || X || ','"
	of()
	{
		echo "$net" | sed "s/X/$1/g"
	}
	file=$(sqlite3 k.db 'SELECT file FROM trail_head')
	before=$(printf '14:pinbone file 1,32:%s,' "$file" | b2sum -l 256 |
	    cut -c1-64)
	for id in $(sqlite3 k.db 'SELECT id FROM audit ORDER BY id'); do
		bytes=$(sqlite3 k.db "SELECT '15:pinbone audit 1,64:$before,'
		    || $(of id) || $(of at_utc) || $(of offset_min)
		    || $(of by) || $(of action) || $(of subject)
		    || $(of detail) || $(of changes)
		    FROM audit WHERE id = $id")
		before=$(printf %s "$bytes" | b2sum -l 256 | cut -c1-64)
		expect_is "$before" \
		    "$(sqlite3 k.db "SELECT digest FROM audit WHERE id = $id")"
	done
	expect_is "$before" "$(sqlite3 k.db 'SELECT digest FROM trail_head')"
	# One row: its columns by name, what is NULL left out.
	bytes=$(sqlite3 k.db "SELECT '13:pinbone row 1,4:hold,'
	    || '6:at_utc,1:i,' || $(of at_utc)
	    || '2:by,1:t,' || $(of by)
	    || '2:id,1:i,' || $(of id)
	    || '10:portion_id,1:i,' || $(of portion_id)
	    || '6:reason,1:t,' || $(of reason)
	    || '11:released_by,1:t,' || $(of released_by)
	    || '15:released_reason,1:t,' || $(of released_reason)
	    || '12:released_utc,1:i,' || $(of released_utc)
	    FROM hold WHERE id = 1")
	is=$(printf %s "$bytes" | b2sum -l 128 | cut -c1-32)
	expect_is "$(sqlite3 k.db "SELECT count(*) FROM audit
	    WHERE changes LIKE '~hold 1 % $is {%'")" 1
fi

# --- a backup is looked at where it lies -------------------------------------

mkdir stick
does backup stick --by AK
does verify stick/pinbone-2026-11-26-0001.db
expect_out 'not as recorded: 0'

# --- tampering ----------------------------------------------------------------

sqlite3 k.db "UPDATE portion SET use_by_utc = use_by_utc + 86400 WHERE id = 2"
p verify
expect_status 1
expect_out 'portion 2: not as it was recorded'
expect_out 'not as recorded: 1'
grep -q 'keep this file and every backup' errf || fail 'not said what to do'
pass
p --json verify
expect_status 1
expect_out '"kind": "row-changed"'
expect_out '"table": "portion"'
expect_out '"key": "2"'
