# A recall: opened by lot, pulled by place, ticked off by scan, closed.
# Back and forward as Reg. (EC) 178/2002 Art. 18 asks, as the Food Standards
# Agency's traceability training puts it.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen
take_in COD whole 8 6400 2026-11-29
cod=$batch
take_in COD whole 4 3200 2026-11-29
second=$batch
does --json receive --by AK --supplier gannet --document N-2 --species PLE \
    --presentation whole --count 10 --weight 3kg --lot L-9 --temperature 1.5 \
    --area 27.7.e --method caught --accept
ple=$(get code)
does --json prep "$cod" --by AK --fish 3 --weight 2400 \
    --make cod-side:4:544 --make cod-side:3:410:3 --trim 90 --frames 900 \
    --waste 456
one=$(all code | sed -n 1p)
two=$(all code | sed -n 2p)
three=$(all code | sed -n 3p)
four=$(all code | sed -n 4p)
tray=$(all code | sed -n 5p)
does --json prep "$ple" --by AK --fish 2 --weight 600 \
    --make plaice-crumb:2:100 --frames 300
plaice=$(all code | sed -n 1p)
does freeze "$four" --by AK --temperature -20
does move "$tray" "$cod" --to ICE --by LM
expect_out 'moved 2 to ice'
refuses 2 '"cellar" is no place of this kitchen: fridge, freezer, ice' \
    move "$tray" --to cellar --by LM
at=13:00
does use "$one" --by LM --service 2026-11-27/dinner
does discard "$two" --by LM --reason dropped
refuses 3 'nothing of .* is on hand' move "$one" --to ice --by LM

# --- what is refused ---
refuses 2 'recall takes open, tick' recall shut
refuses 2 'takes the number of a recall' recall show x
refuses 4 'there is no recall 1' recall show 1
refuses 2 'reason' recall open "$cod" --by AK
refuses 4 'nothing is on record for lot L-77: nothing was blocked' \
    recall open --lot L-77 --by AK --reason rang
refuses 2 'not both' recall open "$cod" --lot L-1 --by AK --reason rang
refuses 2 'say a lot, a document' recall open --by AK --reason rang
refuses 2 'a recall comes from' recall open "$cod" --from press --by AK \
    --reason rang
refuses 4 'in this station file' recall open "$cod" "$(no_batch)" --by AK \
    --reason rang
refuses 2 'the last day' recall open --supplier gannet --day 2026-11-26 \
    --until 2026-11-20 --by AK --reason rang
does recall list
expect_out 'no recall was ever opened'

# --- opened by the supplier's lot, in any case: both batches of it ---
does label print "$three" --by AK --queue
does hold "$second" --by EF --reason 'soft'
at=13:10
does --json recall open --lot l-1 --supplier gannet --by JM \
    --reason 'supplier rang: metal' --from supplier
expect_is "$(get recall)" 1
# Two batches whole, three units with something left.
expect_is "$(get to_pull)" 5
expect_is "$(get missing)" 5
expect_is "$(get labels_stopped)" 1
for code in "$three" "$tray" "$four"; do
	refuses 3 'on hold' use "$code" --by AK
done
refuses 3 'on hold' thaw "$four" --by AK
refuses 3 'on hold' prep "$cod" --by AK --fish 1 --weight 800 --frames 700
refuses 3 'on hold' prep "$second" --by AK --fish 1 --weight 800 --frames 700
refuses 3 'recall 1 rests on its hold' release "$cod" --by AK --reason fine
refuses 3 'recall 1 rests on its hold' release "$second" --by AK --reason fine
does --json recall show 1
expect_out '"place": "ice"'
expect_out '"place": "freezer"'
expect_out '"place": "fridge"'
expect_out '"service": "2026-11-27/dinner"'
expect_out '"trim_g": 90'
expect_out '"frames_g": 900'
does recall show 1
expect_out 'MISSING 5 of 5'
expect_out "SERVED 1 time"
expect_out "$one    1 of Cod with peas"
expect_out 'GONE BEFORE IT WAS OPENED'
expect_out 'by the law of the place'
does --csv recall show 1
expect_out 'code,batch,name,left,weight_g,place'

# --- ticked off ---
at=13:20
does recall tick 1 "$three" --by LM
expect_out "FOUND $three Cod with peas: 1"
expect_out '1 of 5 found, 4 missing'
does recall tick 1 "$three" --by LM
expect_out "AGAIN $three"
does --json recall tick 1 "$tray" --found 2 --by LM
expect_is "$(get verdict)" found
expect_is "$(get lacking)" 1
expect_is "$(get missing)" 4
refuses 3 'was made with 3: count again' recall tick 1 "$tray" --found 2 --by LM
does --json recall tick 1 "$tray" --by LM
expect_is "$(get lacking)" 0
expect_is "$(get missing)" 3
does recall tick 1 "$one" --by LM
expect_out "RECORDED AS GONE $one"
expect_out '1 used'
does recall tick 1 "$plaice" --by LM
expect_out "NOT PART OF IT $plaice"
expect_out "it is of batch $ple: put it back"
# A label of ours that this file has no record of, scanned whole.
unknown=$(no_portion | tr -d -)
body="1${unknown}$(echo "$cod" | tr -d -)2611282359"
scan="91$body$(check_of "$body")"
does recall tick 1 "$scan" --by LM
expect_out 'UNKNOWN LABEL'
expect_out "its label says batch $cod (known here), use by Sat 28 Nov 23:59"
refuses 2 '.' recall tick 1 garbage --by LM
refuses 4 'no recall 7' recall tick 7 "$one" --by LM
does recall note 1 --by JM --text 'authority told at 13:22'
does recall show 1
expect_out 'FOUND 2 of 5'
expect_out 'authority told at 13:22'
expect_out 'SCANNED, AND NOT TO BE EXPECTED'

# --- the list on paper ---
settings 'gap_mm = 0'
does recall print 1 --by JM
expect_file labels
settings
does recall list
expect_out 'open      lot l-1 of Gannet Fish: 3 of 5 missing'
does --json today
expect_out '"recalls"'
expect_out '"missing": 3'

# --- closed ---
refuses 3 '3 of 5 of recall 1 are missing' recall close 1 --by JM \
    --outcome discarded
refuses 2 'say what became of the goods' recall close 1 --by JM \
    --outcome eaten --reason x
refuses 3 'say why it is fit' recall close 1 --by JM --outcome released
does recall tick 1 "$cod" --by LM
does recall tick 1 "$second" --by LM
at=13:40
does --json recall close 1 --by JM --outcome returned \
    --reason 'frozen one not found: freezer emptied yesterday'
expect_is "$(get missing)" 1
expect_is "$(get discarded)" 4
expect_is "$(get released)" 0
refuses 3 'closed already' recall close 1 --by JM --outcome discarded
refuses 3 'recall 1 is closed' recall tick 1 "$four" --by LM
does --json trace "$cod"
expect_out 'returned to the supplier'
expect_out '"unexplained": 0'
# What was not found stays blocked; a person lets it go.
refuses 3 'on hold' use "$four" --by AK
does --json stock
expect_no_out "$tray"

# --- opened by mistake: what it blocked is free again, what was not its is not
at=14:00
does hold "$plaice" --by EF --reason 'dropped'
does --json recall open "$plaice" --breakdown --by JM --reason 'wrong code'
expect_is "$(get recall)" 2
expect_is "$(get to_pull)" 2
refuses 3 'recall 2 rests' release "$plaice" --breakdown --by JM --reason x
does recall close 2 --by JM --outcome mistake
expect_out '1 hold lifted'
refuses 3 'on hold' use "$plaice" --by AK
does release "$plaice" --by JM --reason 'clean'
does use "$plaice" --by AK

# Two recalls on one batch: the first one closed lifts nothing of the second.
does recall open "$ple" --by JM --reason a
does recall open --document n-2 --by JM --reason b --from authority
does recall close 3 --by JM --outcome mistake
expect_out '1 hold stays'
refuses 3 'on hold' prep "$ple" --by AK --fish 1 --weight 300 --frames 200
does recall close 4 --by JM --outcome released --reason 'clean by test'
refuses 3 'on hold' prep "$ple" --by AK --fish 1 --weight 300 --frames 200
does release "$ple" --by JM --reason 'both closed'
does log --last 100
expect_out 'recall 1'
expect_out 'closed, returned, 1 missing'
