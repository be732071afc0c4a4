# Held from the same instant: a batch, a breakdown or a unit; what was queued
# for it does not come out; notes are kept; release says what to print again.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen 'address = preview:labels'
take_in COD whole 8 6400 2026-11-29
cod=$batch
does --json prep "$cod" --by AK --fish 2 --weight 1600 \
    --make cod-side:2:272 --make cod-side:3:410:3 --frames 700
one=$(all code | sed -n 1p)
two=$(all code | sed -n 2p)
tray=$(all code | sed -n 3p)
does --json prep "$cod" --by AK --fish 1 --weight 800 \
    --make cod-side:2:272 --frames 400
late=$(all code | sed -n 1p)

# --- a breakdown is named by what it made ---
refuses 2 'is a batch.s code: a breakdown is named by' hold "$cod" \
    --breakdown --by AK --reason glass
does label print "$one" "$late" --by AK --queue
at=09:10
does --json hold "$tray" --breakdown --by AK --reason 'a knife broke'
expect_is "$(get code)" 'breakdown 1'
expect_is "$(get labels_stopped)" 1
# Its queued label never prints; the one of the other breakdown does.
does --json trace "$one"
expect_out '"state": "cancelled"'
expect_out '"error": "on hold: a knife broke"'
does printer work --once
does --json trace "$late"
expect_out '"state": "sent"'
[ "$(find labels -name '*.png' | wc -l)" -eq 1 ] || fail 'one label is out'
pass
for code in "$one" "$two" "$tray"; do
	refuses 3 'on hold: do not serve it' use "$code" --by AK
	refuses 3 'on hold' freeze "$code" --by AK --temperature -20
	refuses 3 'on hold: it gets no label' label print "$code" --by AK
	refuses 3 'on hold' label reprint "$code" --by AK
done
refuses 3 'on hold already' hold "$one" --breakdown --by AK --reason again
does use "$late" --by AK --servings 1
does --json today
expect_out '"on_hold"'
does trace "$one"
expect_out 'ON HOLD'
expect_out 'a knife broke'
# A unit has no hold of its own then; the breakdown is let go by any unit.
refuses 3 'has no hold of its own' release "$one" --by AK --reason fine
does note "$two" --breakdown --by LM --text 'blade found whole in the sink'
refuses 3 'no hold of its own' note "$two" --by LM --text here
refuses 2 'text' note "$two" --breakdown --by LM
does trace "$cod"
expect_out 'note'
expect_out 'by LM: blade found whole in the sink'
at=09:30
does --json release "$two" --breakdown --by JM --reason 'blade is whole'
expect_is "$(get labels_wanted)" 1
expect_is "$(get labels_to_print)" "$one"
does label print "$one" --by AK
does use "$one" --by AK --reason 'asked for'

# --- a batch blocks what it has left, and everything made of it ---
at=09:40
does label print "$two" --by AK --queue
does hold "$cod" --by AK --reason 'supplier rang'
expect_out '1 queued label is stopped'
refuses 3 'on hold' prep "$cod" --by AK --fish 1 --weight 800 --frames 700
refuses 3 'on hold' use "$two" --by AK
does --json plan 2026-11-27/dinner
# Named once: among what was left out, and why.
expect_is "$(grep -c "$cod" out)" 1
expect_out '"reason": "held"'
does release "$cod" --by AK --reason 'another lot'
expect_out "labels to print again: $two"

# --- undo: a hold taken back, a breakdown's too, and a release ---
at=09:50
does hold "$two" --breakdown --by EF --reason 'smells'
does undo --by EF --yes
expect_out 'hold on breakdown 1'
does use "$two" --by EF --reason 'asked for'
refuses 3 'has no hold of its own' release "$tray" --breakdown --by EF \
    --reason x

# --- the race: another process holds between queueing and sending ---
at=10:00
does label print "$tray" --by AK --queue
# As a program would leave it that knew nothing of stopping labels.
sqlite3 k.db "INSERT INTO hold (portion_id, reason, at_utc, by) SELECT id,
 'glass', unixepoch('2026-11-26T10:00Z'), 'LM' FROM portion
 WHERE code = '$(echo "$tray" | tr -d -)'"
before=$(find labels -name '*.png' | wc -l)
p printer work --once
[ "$(find labels -name '*.png' | wc -l)" -eq "$before" ] ||
    fail 'a label of what is on hold came out'
pass
does --json trace "$tray"
expect_out '"state": "cancelled"'
expect_out 'is on hold: it gets no label until released'
