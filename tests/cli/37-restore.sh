# A backup in place of the station file: what it loses is said first, nothing is
# thrown away, codes go on, and the file is left alone by whoever is not asked.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"

kitchen 'folder = stick'
take_in COD whole 4 3200 -
cod=$batch
does --json prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:3:360
mkdir stick
does backup --by AK
at=11:00
take_in PLE whole 10 6000 -
plaice=$batch
does --json prep "$plaice" --by AK --fish 2 --weight 1200 \
    --make plaice-crumb:8:400
tray=$(get code)
does hold "$plaice" --by AK --reason 'smells of diesel'
first=stick/pinbone-2026-11-26-0001.db

# --- without --yes: said, and nothing done ---------------------------------

cp k.db before.db
mark
p restore $first
expect_status 3
expect_one_line_err
expect_err 'nothing was changed: --yes --by INITIALS'
expect_out "up to row"
expect_out '1 receive, 2026-11-26 11:00'
expect_out "$plaice  PLE, 6000 g"
expect_out "$tray  Crumbed plaice"
expect_out 'ON HOLD now'
expect_out 'smells of diesel'
expect_unchanged
cmp -s k.db before.db || fail 'the file was changed'
pass
p --json restore --newest
expect_status 3
expect_out '"lost_rows": 4'
expect_is "$(all code | sort -u | grep -c "$plaice")" 1
refuses 2 '--by is missing' restore $first --yes
refuses 2 'name the backup' restore
refuses 4 'No such file' restore nothing.db --yes --by AK
refuses 4 'no stick is labelled NOBODYS' restore --stick NOBODYS
refuses 4 'no stick is labelled NOBODYS' backup --stick NOBODYS --by AK
refuses 2 'not a whole|not a Pinbone' restore station.ini --yes --by AK
refuses 4 'no whole backup' restore --newest . --yes --by AK
ls k.db.* 2>/dev/null && fail 'something was set aside'
pass

# --- another kitchen's -----------------------------------------------------

cp station.ini keep.ini
settings 'kitchen = Lantern Quay'
run --config station.ini --db lantern.db --now "${day}T$at" init
expect_status 0
run --config station.ini --db lantern.db --now "${day}T$at" \
    restore $first --yes --by AK
expect_status 3
expect_err 'another kitchen: Harbour Kitchen'
mv keep.ini station.ini
settings 'folder = stick'

# --- done ------------------------------------------------------------------

does restore --newest --yes --by CD
expect_out 'the file before is whole, as k.db.aside-2026-11-26-1'
expect_out 'WERE ON HOLD and are not in the backup'
expect_out "$tray"
expect_out restored
cmp -s k.db.aside-2026-11-26-1 before.db || fail 'not the file before'
pass
does --json log --last 1
expect_is "$(get action)" restore
expect_is "$(get by)" CD
refuses 4 'no batch|unknown|not' trace "$plaice"
# The label explains itself, whatever became of the record.
does trace "$cod"
take_in PLE whole 10 6000 -
[ "$batch" != "$plaice" ] || fail "$plaice was given twice"
pass
does --json prep "$batch" --by AK --fish 2 --weight 1200 \
    --make plaice-crumb:8:400
all code | grep -qx "$tray" && fail "$tray was given twice"
pass
# What was set aside is a station file as before.
run --config station.ini --db k.db.aside-2026-11-26-1 --now "${day}T$at" \
    trace "$tray"
expect_status 0
expect_out 'ON HOLD'
# It went its own way; so it is told from the others in a folder.
cp k.db.aside-2026-11-26-1 stick/pinbone-2026-11-26-0007.db
does backup --list
expect_out 'went its own way after row'
does --json backup --list
expect_out '"apart_after": '

# --- damaged ---------------------------------------------------------------

# The newest whole one is taken, and what is not whole is passed over.
does backup --by AK
cp stick/pinbone-2026-11-26-0008.db stick/pinbone-2026-11-26-0009.db
dd if=/dev/zero of=stick/pinbone-2026-11-26-0009.db bs=4096 seek=30 count=3 \
    conv=notrunc 2>/dev/null
cp k.db whole.db
head -c 20000 k.db | tail -c 19000 >torn.db
mv torn.db k.db
for command in stock log "trace $cod" "hold $cod --by AK --reason x"; do
	# shellcheck disable=SC2086
	p $command
	[ "$status" -ne 0 ] || fail 'a torn file was used'
	expect_one_line_err
	expect_err 'pinbone restore'
done
# A label is read all the same: nothing of the file is needed.
p scan 9110000002633801126120723591
expect_status 0
expect_out 'Monday 7 December 2026 23:59'
cp k.db torn.db
p restore --newest
expect_status 3
expect_err 'nothing was changed'
expect_err '1 newer not whole'
expect_out 'the present file cannot be read'
expect_out '0008.db: whole'
cmp -s k.db torn.db || fail 'the torn file was changed'
pass
p restore --newest --yes --by AK
expect_status 0
cmp -s k.db.aside-2026-11-26-2 torn.db || fail 'the torn file is not kept'
pass
take_in COD whole 4 3200 -
for given in $(sqlite3 whole.db 'SELECT code FROM batch' 2>/dev/null); do
	[ "$(echo "$batch" | tr -d -)" != "$given" ] || fail "$given again"
done
pass
does inspect
expect_out 'whole: '

# Gone altogether: the same.
rm k.db
p stock
expect_status 4
expect_err 'pinbone restore'
p restore $first --yes --by AK
expect_status 0
does stock
expect_out "$cod"
