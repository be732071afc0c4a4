# A complaint keeps the chain as it was; a drill finds it against the clock.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen
take_in COD whole 4 3200 2026-11-28 --gear 'Hooks and lines' \
    --caught 2026-11-24
cod=$batch
does --json prep "$cod" --by AK --fish 2 --weight 1590 \
    --make cod-side:2:272 --make cod-side:3:410:3 --trim 40 --frames 700 \
    --waste 100
one=$(all code | sed -n 1p)
tray=$(all code | sed -n 3p)
at=20:30
does use "$one" --by LM --service 2026-11-27/dinner

# --- taken -----------------------------------------------------------------

refuses 2 'what' complaint add "$one" --by AK
refuses 2 'a dish and a service' complaint add --what 'a bone' --by AK
does complaint add "$one" --what 'smelled, two guests' --table 12 \
    --at 20:10 --hold --by AK
expect_out "$cod: on hold"
does complaint show 1
expect_out "COMPLAINT 1  $one  OPEN"
expect_out 'table        12'
expect_out 'served       2026-11-26 20:10'
expect_out 'supplier     Gannet Fish, dispatch desk'
expect_out 'lot          L-1'
expect_out "portion      $one  Cod with peas: 0 of 1 left, 1 served"
expect_out "$cod    then  not on hold
               now   on hold"
does --json complaint show 1
expect_out '"as_kept": true'
sed -n '/"trace": {/,/"trace_now"/p' out >then1

at=21:00
does discard "$tray" --by AK --reason 'complaint 1'
does --json complaint show 1
sed -n '/"trace": {/,/"trace_now"/p' out >then2
cmp -s then1 then2 || fail 'the frozen chain changed'
pass
expect_out '"now": "0 of 3 left, 0 served, 3 discarded, 0 missing, chilled"'
does today
expect_out 'complaints     1 open'
does complaint note 1 --text 'guest well again' --by LM
does complaint list --open
expect_out 'OPEN'
does complaint close 1 --text 'belly left on, cook told' --by AK
does complaint list --open
expect_out 'no complaint is open'
does --json complaint list
expect_out '"outcome": "belly left on, cook told"'
p --csv complaint list
expect_out "1,$one,\"smelled, two guests\",12,"
refuses 3 'is closed' complaint note 1 --text more --by AK
refuses 4 'complaint 7 is not' complaint show 7

# --- the label is gone -----------------------------------------------------

day=2026-11-27
at=22:00
does complaint add --dish cod-side --service 2026-11-27/dinner \
    --what 'tasted off' --by AK
does complaint show 2
expect_out "batch        $cod  Cod, Gannet Fish, lot L-1: certain: 1 scanned"
does help complaint
expect_out 'Name a table, not a guest'

# --- a drill ---------------------------------------------------------------

does drill --by AK --seed 42
expect_out "Drill $cod"
expect_out 'goal: one second, met'
expect_out 'led back to the batch                  3'
expect_out 'breakdown 1: 68 g'
expect_out 'NOT ALL FOUND'
does balance explain 1 --reason drip --by AK
does --json drill "$tray" --by LM
expect_out '"accounted": true'
expect_out '"seed": null'
took=$(get took_us)
[ "$took" -gt 0 ] && [ "$took" -lt 1000000 ] || fail "took $took us"
pass
does drill list
expect_out "2  2026-11-27 22:00 by LM  $cod  found in 0."
does drill show 1
expect_out 'batch drawn with'
refuses 2 'drill takes a code' drill "$cod" --seed 3 --by AK
refuses 4 'drill 9 is not' drill show 9
refuses 2 'seed' drill --seed 0 --by AK
