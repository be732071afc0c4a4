# The station file: another one, a newer one, a damaged one, a full disk.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen
take_in COD whole 4 3200 -
cod=$batch
mark

# with_file STATUS REGEX FILE - every kind of command says the same of it.
with_file()
{
	st=$1
	re=$2
	file=$3
	cp "$file" copy
	for command in stock log "trace $cod" 'plan 2026-11-27/dinner' \
	    'import menu menu.csv' "hold $cod --by AK --reason x" \
	    "label print $cod --by AK"; do
		# shellcheck disable=SC2086
		run --config station.ini --db "$file" \
		    --now "${day}T$at" $command
		expect_status "$st"
		expect_one_line_err
		expect_err "^pinbone: .*$re"
		[ ! -s out ] || fail 'expected no output with an error'
	done
	cmp -s "$file" copy || fail "$file was changed"
	pass
}

# patch FILE OFFSET BYTES - printf BYTES over the file.
patch()
{
	# shellcheck disable=SC2059
	printf "$3" | dd of="$1" bs=1 seek="$2" conv=notrunc 2>/dev/null
}

# --- not there, not a file, not a station ----------------------------------

run --config station.ini --db none.db stock
expect_status 4
expect_one_line_err
expect_err '^pinbone: none\.db: no such station file: make it with pinbone '
expect_no_file none.db
mkdir folder
run --config station.ini --db folder stock
[ "$status" -ne 0 ] || fail 'a folder is no station file'
expect_one_line_err
echo 'a shopping list, long enough to hold more than a header would' >list
with_file 2 'list: .*station file' list
head -c 8192 /dev/zero >zeros
with_file 2 'zeros: .*station file' zeros
: >empty
with_file 2 'empty: not a Pinbone station file; .*pinbone restore' empty

# The header of an SQLite file (sqlite.org/fileformat.html, 1.3): the
# application's number at offset 68, the schema's at 60, four bytes each,
# most significant first.  No write-ahead log is left beside a closed file.
expect_no_file k.db-wal
cp k.db other.db
patch other.db 68 '\0\0\0\001'
with_file 2 'other\.db: not a Pinbone station file; ' other.db
cp k.db other.db
patch other.db 68 '\0\0\0\0'
with_file 2 'other\.db: not a Pinbone station file; ' other.db
cp k.db newer.db
patch newer.db 60 '\0\0\003\347'
with_file 3 'newer\.db: written by a newer program \(schema 999, this one k' \
    newer.db

# --- damaged ---------------------------------------------------------------

size=$(wc -c <k.db)
page=$(od -An -tu1 -j16 -N2 k.db | awk '{ print $1 * 256 + $2 }')
[ "$page" -ge 512 ] || fail "a page of $page bytes"
# Half of it gone; only the header there.
for keep in $((size / 2)) $page 100 50; do
	head -c $keep k.db >half.db
	run --config station.ini --db half.db stock
	[ "$status" -ne 0 ] || fail "the first $keep bytes were taken for a file"
	expect_one_line_err
	expect_err '^pinbone: half\.db: |^pinbone: .*half\.db'
done
# Any page of it overwritten: never a crash, one line, and no record made.
n=1
while [ $((n * page)) -lt "$size" ]; do
	cp k.db hurt.db
	head -c "$page" /dev/zero | tr '\0' '\377' |
	    dd of=hurt.db bs="$page" seek=$n conv=notrunc 2>/dev/null
	for command in stock "trace $cod" 'plan 2026-11-27/dinner' \
	    "hold $cod --by AK --reason x"; do
		# shellcheck disable=SC2086
		run --config station.ini --db hurt.db --now "${day}T$at" $command
		[ "$status" -eq 0 ] || expect_one_line_err
		rm -f hurt.db-damaged # each meets the damage anew
	done
	n=$((n + 1))
done
[ $n -gt 10 ] || fail "only $n pages"

# --- full disk: as before, and good again afterwards -----------------------

# full BLOCKS ARGS... - with files limited to that many 512 byte blocks.
full()
{
	blocks=$1
	shift
	ran="pinbone $* (disk full at $blocks blocks)"
	status=0
	(
		trap '' XFSZ
		ulimit -f "$blocks"
		exec "$PINBONE" --config station.ini --db k.db \
		    --now "${day}T$at" "$@" >out 2>errf
	) || status=$?
	[ "$status" -ne 99 ] && [ "$status" -lt 126 ] || fail 'it crashed'
}

# tries ARGS... - ever more room, until the command gets through: each time
# before, an error and nothing recorded.
tries()
{
	room=4 # the error line itself has to fit
	refused=0
	mark
	"$PINBONE" --config station.ini --db k.db --now "${day}T$at" \
	    --json stock >stock.before
	while full $room "$@" && [ "$status" -ne 0 ]; do
		expect_one_line_err
		expect_unchanged
		"$PINBONE" --config station.ini --db k.db \
		    --now "${day}T$at" --json stock >stock.after
		cmp -s stock.before stock.after || fail 'the stock changed'
		refused=$((refused + 1))
		room=$((room + 9))
		[ $room -lt 2000 ] || fail 'it never got through'
	done
	[ $refused -gt 0 ] || fail 'no disk was full'
	expect_no_err
	mark after
	! cmp -s before after || fail 'done, but not recorded'
	pass
}

tries receive --by AK --supplier gannet --document N-3 --species HAD \
    --presentation whole --count 3 --weight 2100 --lot L-3 --temperature 1 \
    --area 27.7.e --method caught --accept
tries prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:2:272
portion=$(sed -n 's/^\(...-...\)  .*/\1/p' out | head -n 1)
tries use "$portion" --by LM
tries hold "$cod" --by AK --reason smells
does trace "$cod"
expect_out 'ON HOLD'
printf 'date,service,covers\n2026-12-01,dinner,40\n2026-12-02,dinner,41\n' \
    >more.csv
tries import bookings more.csv

# --- no place to write beside the file -------------------------------------

# The way to the file is through a file: neither found nor made.
run --config station.ini --db list/k.db stock
[ "$status" -ne 0 ] || fail 'a path through a file'
expect_one_line_err

# --- what another program sees and may do ----------------------------------

if has sqlite3; then
	expect_is "$(sqlite3 k.db 'PRAGMA integrity_check')" ok
	expect_is "$(sqlite3 k.db 'PRAGMA foreign_key_check')" ''
	# The trail takes no change and no removal, by whatever program.
	for change in "UPDATE audit SET id = id" 'DELETE FROM audit'; do
		! sqlite3 k.db "$change" 2>sqlite.err ||
		    fail "the trail took: $change"
		grep -q 'the audit trail is never changed' sqlite.err ||
		    fail "$(cat sqlite.err)"
		pass
	done
	# Another program writing: wait a little, then say so; as before.
	mkfifo lock
	sqlite3 k.db <lock >/dev/null 2>&1 &
	exec 9>lock
	printf '.timeout 5000\nBEGIN IMMEDIATE;\n' >&9
	# Until it has the lock, a write by sqlite3 itself would get through.
	n=0
	while sqlite3 k.db 'BEGIN IMMEDIATE; ROLLBACK' 2>/dev/null; do
		n=$((n + 1))
		[ $n -lt 100 ] || fail 'the lock was never taken'
	done
	mark
	p use "$portion" --by LM
	expect_status 5
	expect_one_line_err
	expect_unchanged
	p stock
	expect_status 0
	exec 9>&-
	wait
fi
