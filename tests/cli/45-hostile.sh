#!/bin/sh
# A hostile environment: odd variables, closed descriptors, links and pipes
# where files are expected, more arguments than anybody types.  An error, never
# a crash, a hang or a file that somebody else pointed at.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"

kitchen
take_in COD whole 10 20kg -
mkdir stick out_of_the_way

# quick WORDS... - must end within ten seconds, whatever its status.
quick()
{
	ran="$*"
	status=0
	timeout 10 "$@" >out 2>errf </dev/null || status=$?
	[ $status -ne 124 ] || fail 'it hangs'
	[ $status -ne 99 ] || fail 'a sanitizer reported a fault'
	[ $status -lt 126 ] || fail 'the program did not end by itself'
	pass
}
station="--config station.ini --db k.db --now ${day}T$at"
sound()
{
	expect_is "$(sqlite3 k.db 'PRAGMA integrity_check')" ok
}

# --- variables -------------------------------------------------------------
big=$(awk 'BEGIN { for (i = 0; i < 100000; i++) printf "x" }')
# shellcheck disable=SC2086
{
	for name in HOME XDG_CONFIG_HOME XDG_DATA_HOME TERM LANG LC_ALL TZ \
	    TMPDIR NO_COLOR LANGUAGE TERMINFO; do
		quick env "$name=$big" "$PINBONE" $station stock
		[ $status -eq 0 ] || fail "$name of 100 000 bytes"
		quick env "$name=/$big" "$PINBONE" stock
		quick env "$name=" "$PINBONE" $station stock
		[ $status -eq 0 ] || fail "$name empty"
	done
	quick env -i "$PINBONE" $station stock
	[ $status -eq 0 ] || fail 'no variable at all'
	quick env -i "$PINBONE" stock
	expect_err 'no settings'
	quick env LC_ALL=xx_YY.nothing LANG=../../etc "$PINBONE" $station today
	[ $status -eq 0 ] || fail 'a locale that is not there'
	quick env TERM='%s%n;$(touch made)' "$PINBONE" $station station
	[ $status -ne 0 ] || fail 'a station without a terminal'
	expect_no_file made
}
sound

# --- descriptors closed before the start -----------------------------------
# The file must not become standard output or error: what is printed would be
# written into it.
for closed in '0<&-' '1>&-' '2>&-' '0<&- 1>&-' '1>&- 2>&-' '0<&- 1>&- 2>&-'; do
	for command in stock 'hold B --reason x --by AK' 'stock --nonsense'; do
		command=$(echo "$command" | sed "s/ B / $batch /")
		quick sh -c "exec $closed; exec \"\$0\" $station $command" \
		    "$PINBONE"
		expect_is "$(head -c 15 k.db)" 'SQLite format 3'
	done
done
sound
mark
does release "$batch" --reason ok --by AK

# --- modes -----------------------------------------------------------------
mkdir loose
(umask 000 && does init --help && does backup loose --by AK)
expect_is "$(find loose k.db* -perm /022 | head -n 1)" ''

# --- arguments -------------------------------------------------------------
many=$(awk 'BEGIN { for (i = 0; i < 100000; i++) printf "a " }')
# shellcheck disable=SC2086
{
	quick "$PINBONE" $station stock $many
	expect_is $status 64
	quick "$PINBONE" $many
	expect_is $status 64
	quick "$PINBONE" $station stock "--$(printf '\377\376\033[2J')"
	expect_is $status 64
	quick "$PINBONE" $station trace "$(printf '\033[2J\377%s' "$batch")"
	! grep -q "$(printf '\033')" out errf ||
	    fail 'an escape sequence came out'
	quick "$PINBONE" $station trace '%s%n%s%n'
	quick "$PINBONE" $station trace "'; DROP TABLE batch; --"
}
expect_is "$(sqlite3 k.db 'SELECT count(*) FROM batch')" 1

# --- what is no file -------------------------------------------------------
mkfifo pipe
# shellcheck disable=SC2086
{
	quick "$PINBONE" --config stick $station stock
	quick "$PINBONE" --config stick --db k.db stock
	expect_err 'stick'
	quick "$PINBONE" --config station.ini --db stick stock
	expect_err 'stick'
	quick "$PINBONE" --config station.ini --db pipe stock
	[ $status -ne 0 ] || fail 'a pipe is no station file'
	quick "$PINBONE" --config pipe --db k.db stock
	[ $status -ne 0 ] || fail 'a pipe is no settings file'
	for kind in bookings sales menu suppliers offers; do
		for place in stick pipe /dev/null /dev/zero nowhere; do
			quick "$PINBONE" $station import $kind $place --by AK
			[ $status -ne 0 ] || fail "imported: $kind $place"
		done
	done
}
sound

# --- links planted where something is to be written ------------------------
echo precious >out_of_the_way/precious
ln -s ../out_of_the_way/precious "stick/pinbone-$day-0001.db.part"
ln -s ../out_of_the_way/precious "stick/pinbone-$day-0001.db"
p backup stick --by AK
expect_is "$(cat out_of_the_way/precious)" precious
for n in 1 2 3 4; do
	ln -s ../out_of_the_way/precious "stick/pinbone-$day-000$n.db.part" \
	    2>/dev/null || true
done
p backup stick --by AK
expect_is "$(cat out_of_the_way/precious)" precious
mkdir tables
ln -s ../out_of_the_way/precious "tables/pinbone-stock-$day.csv"
p export stock tables
p export stock tables --replace
expect_is "$(cat out_of_the_way/precious)" precious

# --- a stick with very many files ------------------------------------------
mkdir crowd
(cd crowd && awk 'BEGIN { for (i = 0; i < 20000; i++)
	printf "pinbone-2026-01-01-%05d.db\n", i }' | xargs touch)
# shellcheck disable=SC2086
quick "$PINBONE" $station backup crowd --by AK
# shellcheck disable=SC2086
quick "$PINBONE" $station backup crowd --list
sound
