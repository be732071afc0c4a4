# The last step taken back: said first, done with --yes, never deleted.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen
take_in COD whole 4 3200 2026-11-28
cod=$batch
at=09:10
does --json prep "$cod" --by AK --fish 2 --weight 1600 \
    --make cod-side:4:544:2 --waste 900
tray=$(all code | sed -n 1p)
two=$(all code | sed -n 2p)

# --- said, then done --------------------------------------------------------

at=09:20
refuses 2 '--by is missing' undo
refuses 4 'nothing that LM recorded in the last 30 minutes' undo --by LM
does use "$tray" --by LM --servings 1 --service 2026-11-27/lunch
mark
does undo --by LM
expect_out "would take back: used 1 of 2 cod-side, $tray, at 09:20 by LM"
expect_out '2 of 2 are on hand again'
expect_out 'Only if it never left the kitchen'
expect_out 'Nothing is recorded until you add --yes.'
expect_unchanged
refuses 2 '--reason is empty' undo --by LM --yes --reason ''
does undo --by LM --yes --reason 'wrong tray'
expect_out "taken back: used 1 of 2 cod-side, $tray"
does trace "$tray"
expect_out '2 made, 272 g; 2 left'
expect_out 'used         2026-11-26 09:20 by LM: 1 for 2026-11-27/lunch
  returned     2026-11-26 09:20 by LM: 1 for 2026-11-27/lunch, used before (wrong tray)'
does log
expect_out "undo     $tray"
refuses 4 'nothing that LM recorded' undo --by LM --yes

# --- the station's last step, whoever did it --------------------------------

does discard "$two" --by LM --reason dropped
does undo --by AK --station
expect_out "discarded 2 of 2 cod-side, $two, at 09:20 by LM"
does --json undo --by AK --station --yes
expect_out_is <<END
{
  "done": true,
  "step": "discard",
  "code": "$two",
  "at": "2026-11-26T09:20:00+00:00",
  "by": "LM",
  "what": "discarded 2 of 2 cod-side, $two, at 09:20 by LM",
  "does": "2 of 2 are on hand again",
  "care": "Only if it was never thrown away and stayed cold: what was in the bin stays there.",
  "labels_to_collect": 0,
  "labels": ""
}
END

# --- a breakdown and its labels ---------------------------------------------

at=09:30
does label print "$tray" --by LM
does use "$two" --by LM
refuses 3 "breakdown of batch $cod.* stays: portion $two of it has 0 of 2 left" \
    undo --by AK
does undo --by LM --yes
does undo --by AK --yes
expect_out '2 fish, 1.600 kg are back in batch'
expect_out "labels to collect, 1: $tray"
refuses 3 "portion $tray was struck out with its breakdown" use "$tray" --by LM
does stock
expect_no_out "$tray"
expect_out "$cod"
does trace "$cod"
expect_out 'STRUCK OUT   2026-11-26 09:30 by AK: entered by mistake'
expect_out 'still whole                      3.200 kg'
does --json trace "$cod"
expect_out '"breakdowns": [],'
expect_out '"struck_by": "AK"'

# --- goods in ---------------------------------------------------------------

does undo --by AK
expect_out "goods in of batch $cod, 3.200 kg COD from Gannet Fish"
at=09:31
refuses 4 'nothing that AK recorded' undo --by AK
at=09:30
does undo --by AK --yes
expect_out 'counts nowhere'
does stock
expect_no_out "$cod"
does trace "$cod"
expect_out 'struck out                       3.200 kg'
refuses 3 'was struck out as taken in by mistake' \
    prep "$cod" --by AK --fish 1 --weight 800 --waste 500

# --- what stays -------------------------------------------------------------

at=10:00
take_in COD whole 4 3200 2026-11-28
does --json prep "$batch" --by AK --fish 2 --weight 1600 \
    --make cod-side:4:544:2 --waste 900
tray=$(all code | sed -n 1p)
does freeze "$tray" --by LM --temp -20 --reason 'too many'
refuses 3 "freeze of $tray, at 10:00 by LM stays: what went into the freezer" \
    undo --by LM
refuses 3 "breakdown of batch .* stays: .*has a later freeze" undo --by AK
