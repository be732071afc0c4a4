# A clock nobody should believe, on a station at work: no --now there, so the
# clock of this computer is read, and the station's records are moved instead.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"

p()
{
	run --config station.ini --db k.db "$@"
}

mark()
{
	"$PINBONE" --config station.ini --db k.db --json log --last 100000 \
	    >"${1:-before}"
}

# on ZONE [DAYS] - the date there, by date(1).
on()
{
	TZ=$1 date -d "@$(($(date +%s) + 86400 * ${2:-0}))" +%Y-%m-%d
}

# row DAYS - a record so many days from now; rows are only ever added.
row()
{
	sqlite3 k.db "INSERT INTO audit
	    (at_utc, offset_min, by, action, subject, detail)
	    VALUES ($(date +%s) + $1 * 86400, 0, 'AK', 'test', 'x', 'y')"
}

fish='receive --by AK --supplier gannet --document N-1 --species COD
--presentation gutted --count 4 --weight 9600 --lot L-1 --temperature 1.5
--area 27.7.e --method caught --accept'
zone=Europe/London

# doubtful REGEX - nothing is recorded, and the way out is named.
doubtful()
{
	ask="clock confirm $(on $zone)"
	# shellcheck disable=SC2086
	refuses 3 "^pinbone: the clock reads .*, $1.*: .*pinbone $ask" $fish
	refuses 3 "pinbone $ask" import suppliers suppliers.csv
	refuses 3 "pinbone $ask" discard "$batch" --by AK --reason x
	# Reading goes on, and says so.
	does clock
	grep -qE -e "$1" out || fail "no such doubt: $1"
	pass
	does --json clock
	expect_out '"doubt": "'
	expect_no_out '"doubt": ""'
	does stock
	# A wrong date, a word, no initials: still in doubt.
	refuses 3 'you say .*, the clock reads .*: set the clock' \
	    clock confirm "$(on $zone -1)" --by AK
	refuses 3 'you say .*, the clock reads ' \
	    clock confirm "$(on $zone 1)" --by AK
	refuses 2 'is not a date: write it as YYYY-MM-DD' \
	    clock confirm soon --by AK
	refuses 2 'a day that does not exist' clock confirm 2026-02-30 --by AK
	refuses 2 '--by is missing' clock confirm "$(on $zone)"
	refuses 2 '--by \(initials\) is empty' clock confirm "$(on $zone)" \
	    --by ''
	refuses 2 'clock confirm YYYY-MM-DD' clock confirm
	refuses 2 'clock confirm YYYY-MM-DD' clock believe "$(on $zone)" --by AK
	# shellcheck disable=SC2086
	refuses 3 "pinbone $ask" $fish
}

confirmed()
{
	does clock confirm "$(on $zone)" --by AK
	expect_out 'confirmed: '
	expect_out "($zone)"
	does --json clock
	expect_is "$(get doubt)" ''
	does --json log --last 1
	expect_is "$(get action)" clock
	expect_is "$(get by)" AK
	# Once is enough, and it was not for nothing.
	refuses 3 'nothing speaks against it' clock confirm "$(on $zone)" \
	    --by AK
	# shellcheck disable=SC2086
	does --json $fish
	batch=$(get code)
}

# An earlier year than the program's own would be a doubt by itself.
if [ "$(date +%Y)" -lt 2026 ]; then
	echo 'skip: the clock of this computer is not set' >>"$CLI_MET"
	exit 0
fi

settings 'training = no'
write_tables
does init
does import suppliers suppliers.csv

# A clock that can be believed.
does clock
expect_out 'the clock reads '
expect_out ' (Europe/London)'
does --json clock
expect_is "$(get doubt)" ''
expect_is "$(get zone)" Europe/London
expect_is "$(get now | cut -c1-10)" "$(on $zone)"
refuses 3 'the clock reads .* and nothing speaks against it' \
    clock confirm "$(on $zone)" --by AK
refuses 3 'nothing speaks against it' clock confirm "$(on $zone -1)" --by AK
refuses 2 '--by is missing' clock confirm "$(on $zone)"
# shellcheck disable=SC2086
does --json $fish
batch=$(get code)

# Only a training station is told the time.
run --config station.ini --db k.db --now 2026-11-26T09:00 clock
[ "$status" -ne 0 ] || fail 'a station at work took --now'
expect_one_line_err

# Another zone in the settings.
zone=America/New_York
settings 'training = no' "timezone = $zone"
doubtful '.*America/New_York.*Europe/London'
confirmed
zone=Europe/London
settings 'training = no'
doubtful '.*Europe/London.*America/New_York'
confirmed

if has sqlite3; then
	# Nine days are a holiday, forty a lost battery.
	row -9
	does --json clock
	expect_is "$(get doubt)" ''
	row -40
	doubtful 'more than 10 days after the last record of '
	confirmed
	# Behind its own records.
	row 40
	doubtful 'before the last record of '
	confirmed
	# The limit is the kitchen's.
	row -40
	settings 'training = no' 'jump_days = 60'
	does --json clock
	expect_is "$(get doubt)" ''
	row -61
	settings 'training = no' 'jump_days = 60'
	does --json clock
	expect_is "$(get doubt | cut -c1-17)" 'more than 60 days'
	settings 'training = no'
	row -40
	# The command that is named can be run as it is named: whose initials
	# it needs is part of it.
	# shellcheck disable=SC2086
	refuses 3 "clock confirm $(on $zone) --by " $fish
fi
