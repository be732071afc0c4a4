# Back without a code of ours: what a supplier names, what a label says of
# itself, and the plate whose label is gone.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen
take_in COD whole 8 6400 2026-11-29
cod=$batch
does --json receive --by AK --supplier gannet --document N-2 --species COD \
    --presentation whole --count 8 --weight 6400 --lot L-9 --temperature 1.5 \
    --area 27.7.e --method caught --supplier-date 2026-11-29 --accept
next=$(get code)

# --- what a supplier names ---
does --json trace --lot l-9
expect_is "$(get code)" "$next"
expect_is "$(get whole_g)" 6400
does trace --document N-1
expect_out "$cod"
expect_no_out "$next"
does --json trace --supplier GANNET --day 2026-11-26
expect_is "$(all code | wc -l)" 2
does --csv trace --supplier gannet --day 2026-11-20 --until 2026-11-30
expect_is "$(grep -c '^26330-' out)" 2
refuses 4 'nothing is on record for lot L-5' trace --lot L-5
refuses 4 'supplier' trace --lot L-1 --supplier nobody
refuses 2 'trace takes a CODE, or' trace
refuses 2 'trace takes a CODE, or' trace "$cod" --lot L-1
refuses 2 'one of them' trace --lot L-1 --document N-1
refuses 2 'a supplier alone is too much' trace --supplier gannet
refuses 2 'a day needs its supplier' trace --day 2026-11-26

# --- a label this station has no record of, read by its own content ---
unknown=$(no_portion | tr -d -)
body="1${unknown}$(echo "$cod" | tr -d -)2611282359"
scan="91$body$(check_of "$body")"
p trace "]d2$scan"
expect_status 4
expect_out 'NO RECORD in this station file'
expect_out "batch        $cod, which this station knows"
expect_out 'use by       Sat 28 Nov 23:59'
expect_out 'do not serve it'
p --json trace "$scan"
expect_status 4
expect_out '"known": false'
expect_out '"batch_known": true'
expect_out '"use_by": "2026-11-28T23:59:00+00:00"'
body="1${unknown}$(no_batch | tr -d -)2611282359"
p --json trace "91$body$(check_of "$body")"
expect_out '"batch_known": false'
# A damaged one says nothing it cannot vouch for.
refuses 2 '.' trace "91${body}0"

# --- the label is gone: dish, service, time ---
does --json prep "$cod" --by AK --fish 2 --weight 1600 --make cod-side:3:410 \
    --frames 900
a1=$(all code | sed -n 1p)
a2=$(all code | sed -n 2p)
does --json prep "$next" --by AK --fish 2 --weight 1600 --make cod-side:3:410 \
    --frames 900
b1=$(all code | sed -n 1p)
b2=$(all code | sed -n 2p)
day=2026-11-27
at=18:00
does use "$a1" --by AK --service 2026-11-27/dinner --reason first
at=19:30
does use "$b1" --by AK --service 2026-11-27/dinner --reason first
at=21:00
does use "$a2" --by AK --service 2026-11-27/dinner --reason first
sn='--service 2026-11-27/dinner'
does trace --dish cod-side $sn
expect_out 'Certain: 3 were scanned out. Not known'
# At 20:00 the second batch was scanned half an hour before, the first two hours.
does --json trace --dish cod-side $sn --at 20:00
expect_is "$(get code)" "$next"
expect_is "$(get odds)" likely
expect_is "$(get scanned_shortly_before)" 1
expect_out '"odds": "possible"'
expect_out '"scanned_after": 1'
# At 18:10 only the first batch had been scanned.
does --json trace --dish cod-side $sn --at 18:10
expect_is "$(get code)" "$cod"
expect_is "$(get odds)" likely
expect_out '"odds": "only if not scanned"'
# Once it is known that all that was sold was scanned, nothing else can be.
day=2026-11-28
at=08:00
does close 2026-11-27/dinner --by AK --seated 40 --walk-ins 0 --sold cod-side:3 \
    --sold plaice-crumb:0 --sold mussel-toast:0
does --json trace --dish cod-side $sn --at 18:10
expect_is "$(get code)" "$cod"
expect_is "$(get odds)" certain
expect_out '"odds": "not by the record"'
does trace --dish cod-side $sn --at 18:10
expect_out 'Certain: all 3 sold were scanned out'
expect_out 'cannot have been on the plate'
refuses 2 'is no time' trace --dish cod-side $sn --at eight
refuses 2 'is no time' trace --dish cod-side $sn --at 25:00
refuses 2 'is not within the service' trace --dish cod-side $sn --at 05:00
refuses 2 'go together' trace --dish cod-side
refuses 4 'was never on the menu' trace --dish eel-pie $sn
