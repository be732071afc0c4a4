# What is left of several trays put onto one: nothing counts twice, nothing is
# lost, the earliest date and every batch stay.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen
take_in COD whole 4 3200 2026-11-28
a=$batch
take_in COD whole 2 1600 2026-11-26
b=$batch
take_in PLE whole 3 900 -
plaice=$batch
does --json prep "$a" --by AK --fish 1 --weight 800 --make cod-side:3:330:3 \
    --frames 300
t1=$(all code | sed -n 1p)
at=10:00
does --json prep "$b" --by AK --fish 1 --weight 800 --make cod-side:3:331:3 \
    --frames 300
t2=$(all code | sed -n 1p)
does --json prep "$a" --by AK --fish 1 --weight 800 --make cod-side:2:272 \
    --frames 300
t3=$(all code | sed -n 1p)
t4=$(all code | sed -n 2p)
does --json prep "$plaice" --by AK --fish 1 --weight 300 \
    --make plaice-crumb:2:110:2 --frames 150
other=$(all code | sed -n 1p)
at=11:00
does use "$t2" --by LM --servings 1 --service 2026-11-27/lunch
# Another first to expire: the reason why this one went.
does use "$t1" --by LM --servings 2 --service 2026-11-27/lunch --reason near

# --- refused -----------------------------------------------------------------

refuses 2 '--by is missing' combine "$t1" "$t2"
refuses 2 'one tray alone' combine "$t1" --by AK
refuses 2 "$t1 is named twice\$" combine "$t1" "$t2" "$t1" --by AK
refuses 2 "$a is a batch's code" combine "$t1" "$a" --by AK
refuses 3 "$t1 is cod-side of COD, $other is plaice-crumb of PLE: only one" \
    combine "$t1" "$other" --by AK
does hold "$b" --by XX --reason smell
refuses 3 "portion $t2 is on hold: leave it" combine "$t1" "$t2" --by AK
does release "$b" --by XX --reason fine
does freeze "$t4" --by XX --temperature -18
refuses 3 "portion $t4 is frozen: only chilled" combine "$t1" "$t4" --by AK
does thaw "$t4" --by XX
refuses 3 "$t1 is chilled, $t4 is thawed: what was frozen" \
    combine "$t1" "$t4" --by AK
day=2026-11-27
refuses 3 "portion $t2 expired on Thu 26 Nov 23:59: discard it" \
    combine "$t1" "$t2" --by AK
day=2026-11-26

# --- together ------------------------------------------------------------------

at=12:00
does --json combine "$t1" "$t2" "$t3" --by AK
new=$(get code)
expect_is "$(get batch)" "$b"
expect_is "$(get also)" "$a"
expect_is "$(get servings)" 4
expect_is "$(get weight_g)" $((330 / 3 + 331 * 2 / 3 + 136))
# The earliest date, and the oldest preparation of them.
expect_out '"use_by": "2026-11-26T23:59:59'
expect_out '"prepared": "2026-11-26T09:00:00'

# The old ones are empty, and say where the rest is.
refuses 3 "portion $t1 is empty: the rest of it is on tray $new, take this" \
    use "$t1" --by LM
refuses 3 "portion $t2 is used up" label print "$t2" --by AK
does --json stock
expect_no_out "\"$t1\""
expect_out "\"$new\""

# Back: both batches, three breakdowns; and each old one says where it went.
does trace "$new"
for text in "put together 2026-11-26 12:00 by AK" \
    'prepared     2026-11-26 09:00' "from         $t1, 1 portion" \
    "from         $t2, 2 portions" "from         $t3, 1 portion" \
    "batches      $b + $a" 'BREAKDOWN 1 ' 'BREAKDOWN 2 ' 'BREAKDOWN 3 ' \
    "BATCH $a" "BATCH $b" "because      tray $t2: 2026-11-26"; do
	expect_out "$text"
done
expect_no_out 'BREAKDOWN 4 '
does trace "$t2"
expect_out "onto tray    $new, 2 portions"
expect_out "(onto tray $new)"
does trace "$a"
expect_out "$new"
expect_out "1 made, 1 onto another tray"
expect_out 'put together from other trays'

# It is held by either, and by any breakdown it rests on.
for x in "$a" "$b"; do
	does hold "$x" --by XX --reason smell
	refuses 3 "portion $new is on hold" use "$new" --by LM
	does release "$x" --by XX --reason fine
done

# Made once: the file's own sums.
cat >sums.sql <<'END'
SELECT (SELECT sum(portions) FROM prep_output) - (SELECT sum(servings) FROM
 portion p WHERE NOT EXISTS (SELECT 1 FROM portion_joined j WHERE
 j.portion_id = p.id)), (SELECT sum(left) FROM portion);
END
if has sqlite3; then
	sqlite3 k.db <sums.sql >sums
	expect_is "$(cat sums)" '0|7'
fi

# --- taken back, then for good -------------------------------------------------

does undo --by AK
expect_out '4 cod-side put together from 3 trays on'
does undo --by AK --yes
refuses 3 "portion $new was put together by mistake and taken apart" \
    use "$new" --by LM
does --json trace "$t2"
expect_is "$(get left)" 2
expect_is "$(get combined)" 0
refuses 3 "$t2 first|use $t2" use "$t1" --by LM
does --json combine "$t1" "$t2" "$t3" --by AK
new=$(get code)
does use "$new" --by LM --servings 1
refuses 3 "portion $new of it has 3 of 4 left" undo --by AK --yes
# A tray of a tray.
does --json prep "$a" --by AK --fish 1 --weight 800 --make cod-side:2:272:2 \
    --frames 300
t5=$(all code | sed -n 1p)
does --json combine "$new" "$t5" --by AK
last=$(get code)
expect_is "$(get servings)" 5
does trace "$last"
for n in 1 2 3 5; do
	expect_out "BREAKDOWN $n "
done
does use "$last" --by LM --servings 5
does ticket day
expect_out 'put together'
