# Backups on a stick in generations, and tables as CSV files in a folder.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"

settings
kitchen
take_in COD whole 3 2400 -
cod=$batch
does --json prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:3:360 \
    --waste 200
one=$(get code)
mkdir stick

# --- backup ----------------------------------------------------------------

does --json log --last 1
row=$(get row)
does backup stick --by AK
expect_out 'pinbone-2026-11-26-0001.db'
expect_out "row $row"
expect_out 'read back and whole; 0 older removed'
expect_is "$(ls stick)" pinbone-2026-11-26-0001.db
does log --last 1
expect_out 'backup'
expect_out "up to row $row, 0 older removed"
# It is a station file that every command can read.
run --config station.ini --db stick/pinbone-2026-11-26-0001.db \
    --now "${day}T$at" trace "$one"
expect_status 0
expect_out "$cod"
rm stick/*-wal stick/*-shm 2>/dev/null || true

day=2026-11-27
does backup stick --by AK --keep 2
day=2026-11-28
does --json backup stick --by AK --keep 2
expect_out '"removed": 1'
expect_is "$(ls stick | tr '\n' ' ')" \
    'pinbone-2026-11-27-0002.db pinbone-2026-11-28-0003.db '
does backup stick --list
expect_out '2 backups of this station'
does --json backup stick --list
expect_out '"others": 0'
expect_is "$(get name)" pinbone-2026-11-28-0003.db

refuses 4 'nowhere: no such folder: is the stick in' backup nowhere --by AK
refuses 2 '--by is missing' backup stick
refuses 2 'keep' backup stick --by AK --keep 0
refuses 2 'name a folder' backup --by AK
expect_is "$(ls stick | wc -l)" 2

# A full stick, as a file system of its own where that may be mounted.
mkdir full
if mount -t tmpfs -o size=3m none full 2>/dev/null; then
	cp stick/pinbone-2026-11-27-0002.db full/
	mark
	p backup full --by AK
	expect_status 3
	expect_one_line_err
	expect_err 'make room or take another stick'
	expect_unchanged
	left=$(ls full)
	cmp -s stick/pinbone-2026-11-27-0002.db \
	    full/pinbone-2026-11-27-0002.db || left=differs
	umount full
	expect_is "$left" pinbone-2026-11-27-0002.db
else
	echo 'skip: no file system may be mounted' >>"$CLI_MET"
fi

# The settings name the stick.
settings 'folder = stick' 'keep = 1'
does backup --by AK
expect_out '0004.db'
expect_out '2 older removed'

# --- export ----------------------------------------------------------------

for kind in stock yields waste audit; do
	does export $kind stick
	expect_out "stick/pinbone-$kind-2026-11-28.csv: "
	expect_file "stick/pinbone-$kind-2026-11-28.csv"
done
does export day 2026-11-26 stick
does export trace "$one" stick
expect_file "stick/pinbone-trace-$one.csv"
does --csv trace "$one"
cmp -s out "stick/pinbone-trace-$one.csv" || fail 'not what trace says'
pass
does --csv ticket day 2026-11-26
cmp -s out stick/pinbone-day-2026-11-26.csv || fail 'not what ticket day says'
pass
does --csv log --last 1000
cmp -s out stick/pinbone-audit-2026-11-28.csv || fail 'not what log says'
pass
# Monday 23 November 2026 is the week of the breakdown: 360 of 800 g is 45 %.
grep -q '^2026-11-23,COD,whole,skinless,1,0,800,360,4500,' \
    stick/pinbone-yields-2026-11-28.csv || fail 'the yield of the week'
pass
grep -q '^2026-11-23,1,800,200,0,0,0,0' stick/pinbone-waste-2026-11-28.csv ||
    fail 'the waste of the week'
pass

echo mine >"stick/pinbone-stock-2026-11-28.csv"
refuses 3 'already there: it was left as it is' export stock stick
expect_is "$(cat stick/pinbone-stock-2026-11-28.csv)" mine
does export stock stick --replace
expect_is "$(head -c 4 stick/pinbone-stock-2026-11-28.csv)" "$(
    p --csv stock
    head -c 4 out
)"
refuses 2 'cannot be exported' export fish stick
refuses 2 'takes neither' export stock 2026-11-26 stick
refuses 2 'needs the code' export trace stick
refuses 4 'is the stick in' export stock nowhere
refuses 3 'has not begun' export day 2026-12-24 stick
refuses 2 'the day' export day yesterday stick
ls stick | grep -q new- && fail 'a part was left behind'
pass
