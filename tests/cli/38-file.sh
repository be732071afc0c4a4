# The station file: closed to others, whole or said not to be, at home on one
# computer, and one station at a time.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"

mode()
{
	stat -c %a "$1"
}

# --- modes -----------------------------------------------------------------

echo 0123456789abcdef0123456789abcdef >first.id
echo fedcba9876543210fedcba9876543210 >second.id
umask 000
kitchen 'machine_id = first.id'
take_in COD whole 4 3200 -
cod=$batch
mkdir stick
does backup stick --by AK
umask 022
for f in k.db k.db-open stick/pinbone-2026-11-26-0001.db; do
	expect_is "$(mode $f)" 600 "$f"
done
run --config station.ini --now "${day}T$at" init
expect_status 0
expect_is "$(mode "$HOME/.local/share/pinbone/pinbone.db")" 600
expect_is "$(mode "$HOME/.local/share/pinbone")" 750

# --- whole -----------------------------------------------------------------

does inspect
expect_out 'whole: '
expect_no_out 'open to everybody'
does inspect --quick
does --json inspect
expect_out '"whole": true'
does inspect --record
does --json log --last 1
expect_is "$(get action)" inspect
chmod 644 k.db
does inspect
expect_out 'open to everybody on this computer: k.db (mode 644)'
chmod 600 k.db

# Damage that is met at work is remembered: nobody writes there again.
size=$(wc -c <k.db)
page=$(od -An -tu1 -j16 -N2 k.db | awk '{ print $1 * 256 + $2 }')
cp k.db hurt.db
head -c "$page" /dev/zero | tr '\0' '\377' |
    dd of=hurt.db bs="$page" seek=$((size / page / 2)) conv=notrunc 2>/dev/null
cp hurt.db as-it-was.db
run --config station.ini --db hurt.db --now "${day}T$at" inspect
expect_status 70
expect_one_line_err
expect_err 'damaged \(.*nothing is written to it any more; pinbone restore'
expect_file hurt.db-damaged
for command in stock "hold $cod --by AK --reason x" 'station --show F2'; do
	# shellcheck disable=SC2086
	run --config station.ini --db hurt.db --now "${day}T$at" $command
	expect_status 70
	expect_one_line_err
	expect_err 'damaged, and not written to any more: .*pinbone restore'
done
cmp -s hurt.db as-it-was.db || fail 'a damaged file was changed'
pass
run --config station.ini --db hurt.db --now "${day}T$at" restore --aside
expect_status 3
expect_err 'nothing was changed'
run --config station.ini --db hurt.db --now "${day}T$at" restore --aside --yes
expect_status 0
expect_no_file hurt.db
expect_no_file hurt.db-damaged
cmp -s hurt.db.aside-2026-11-26-1 as-it-was.db || fail 'not whole'
pass
expect_file hurt.db.aside-2026-11-26-1-damaged

# --- a copy on another computer --------------------------------------------

cp k.db copy.db
settings 'machine_id = second.id'
mark
refuses 3 'worked on another computer: .*the same code twice.*pinbone moved' \
    hold "$cod" --by AK --reason x
refuses 3 'worked on another computer' receive --by AK --supplier gannet \
    --document N-3 --species HAD --presentation whole --count 3 --weight 2100 \
    --lot L-3 --temperature 1 --area 27.7.e --method caught --accept
does trace "$cod"
does stock
# A backup is never refused.
does backup stick --by AK
refuses 2 '--by is missing' moved
does moved --by CD
does --json log --last 1
expect_is "$(get action)" moved
does hold "$cod" --by AK --reason x
refuses 3 'works on this computer already' moved --by CD
# Where computers cannot be told apart nothing is asked.
for id in none /nowhere; do
	settings "machine_id = $id"
	does release "$cod" --by AK --reason y
	does hold "$cod" --by AK --reason x
	p moved --by CD
	expect_status 3
	expect_err 'cannot be told from others'
done
settings 'machine_id = first.id'

# --- an export never takes a name that is there ----------------------------

does export stock stick
echo mine >stick/pinbone-stock-2026-11-26.csv
refuses 3 'already there: it was left as it is' export stock stick
expect_is "$(cat stick/pinbone-stock-2026-11-26.csv)" mine
