# A new station file: never over another one, never half made.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
settings

p init
expect_status 0
expect_no_err
echo 'made station file k.db' | expect_out_is
expect_file k.db
mark first
cp k.db as-it-was.db

# Never overwrites: not a station, not a text, not an empty file.
refuses 3 '^pinbone: k\.db: already there: init never overwrites' init
cmp -s k.db as-it-was.db || fail 'init touched the station file'
pass
echo 'a shopping list' >list.txt
run --config station.ini --db list.txt init
expect_status 3
expect_one_line_err
expect_is "$(cat list.txt)" 'a shopping list'
: >empty.db
run --config station.ini --db empty.db init
expect_status 3
expect_one_line_err
[ ! -s empty.db ] || fail 'init wrote into an empty file'
pass
mkdir folder
run --config station.ini --db folder init
expect_status 3
expect_one_line_err

# A place that cannot be written: the settings' folder is not made up.
run --config station.ini --db missing/k.db init
expect_status 1
expect_one_line_err
expect_err '^pinbone: missing/k\.db[^ ]*: No such file or directory$'
expect_no_file missing
run --config station.ini --db list.txt/k.db init
expect_status 1
expect_one_line_err
expect_err '^pinbone: list\.txt/k\.db: Not a directory$'
run --config station.ini --db "$(printf '%600s' x)" init
expect_status 2
expect_one_line_err
expect_err 'path is too long'

# Settings that are not good leave no file behind.
sed 's/^batch_days = .*/batch_days = 0/' station.ini >bad.ini
run --config bad.ini --db none.db init
expect_status 2
expect_one_line_err
expect_no_file none.db

# A disk that fills up while the file is made leaves none either.
status=0
(
	trap '' XFSZ
	ulimit -f 8
	"$PINBONE" --config station.ini --db none.db init >out 2>errf
) || status=$?
ran='init on a full disk'
expect_status 1
expect_one_line_err
expect_no_file none.db
expect_no_file none.db-wal

# The default places: settings and file of the user.
mkdir -p "$HOME/.config/pinbone"
cp station.ini "$HOME/.config/pinbone/station.ini"
if [ -e /etc/pinbone/station.ini ] || [ -e /var/lib/pinbone ]; then
	echo 'skip: the machine has a station of its own' >>"$CLI_MET"
else
	run init
	expect_status 0
	expect_file "$HOME/.local/share/pinbone/pinbone.db"
	run stock
	expect_status 0
	expect_out 'nothing on hand'
	rm -r "$HOME/.config"
	run stock
	expect_status 4
	expect_one_line_err
	expect_err '^pinbone: no settings: name them with --config FILE'
fi

# A training file is never opened as a real one, nor the other way round.
sed 's/^training = .*/training = no/' station.ini >real.ini
run --config real.ini --db k.db stock
expect_status 3
expect_one_line_err
expect_err '^pinbone: k\.db is a training station file, but real\.ini says '
expect_err 'says training = no$'
run --config real.ini --db real.db init
expect_status 0
run --config station.ini --db real.db stock
expect_status 3
expect_one_line_err
expect_err '^pinbone: real\.db is a real station file, but station\.ini says '
expect_err 'says training = yes$'

# The clock of a real station is the computer's.
for command in stock log init; do
	run --config real.ini --db real.db --now 2026-11-26T09:00 $command
	expect_status 3
	expect_one_line_err
	expect_err '^pinbone: --now is for training stations only: set the comp'
done

# A time that is none.
for t in 09:00 2026-02-30T09:00 2026-11-26T24:00 \
    2026-11-26T09:60 26-11-26T09:00 '' x; do
	run --config station.ini --db k.db --now "$t" stock
	expect_status 2
	expect_one_line_err
	expect_err '^pinbone: --now'
done

# Spring forward, Europe/London 2026-03-29 01:00 to 02:00 (IANA tz database):
# a time in the hour that does not exist is the moment of the change
# (include/base/clock.h), so that no limit is ever late.
for t in 01:00 01:30 02:00; do
	run --config station.ini --db k.db --now "2026-03-29T$t" --json stock
	expect_status 0
	expect_out '"now": "2026-03-29T02:00:00+01:00"'
done

# A clock behind the last record: nothing is recorded, looking is allowed.
run --config station.ini --db late.db --now 2098-05-01T10:00 init
expect_status 0
printf 'code,name,address\ngannet,Gannet Fish,Slipway\n' >s.csv
run --config station.ini --db late.db import suppliers s.csv
expect_status 3
expect_one_line_err
expect_err '^pinbone: the clock reads .*, before the last record of 2098-05-01'
run --config station.ini --db late.db stock
expect_status 0

mark last
cmp -s first last || fail 'the station file changed'
pass
