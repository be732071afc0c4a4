# Into the freezer, out of it, counted by hand: what a cook sees.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen 'raw_days = 4' 'thaw_hours = 20'
take_in COD whole 8 6400 2026-12-02
cod=$batch
does --json prep "$cod" --by AK --fish 1 --weight 800 \
    --make cod-side:2:272:2 --waste 500
tray=$(get code)
at=10:00
does --json prep "$cod" --by AK --fish 1 --weight 800 \
    --make cod-side:2:272 --waste 500
one=$(all code | sed -n 1p)
two=$(all code | sed -n 2p)

# --- what has to be said ---------------------------------------------------

refuses 2 '^pinbone: --temperature is missing' freeze "$tray" --by AK
refuses 2 '^pinbone: --by is missing' freeze "$tray" --temperature -20
refuses 2 '^pinbone: --by is missing' thaw "$tray"
refuses 2 'is a minus sign missing' freeze "$tray" --by AK --temperature 20
refuses 2 '--temperature' freeze "$tray" --by AK --temperature cold
refuses 2 '--reason is empty' freeze "$tray" --by AK --temperature -20 \
    --reason ''
refuses 2 "$cod is a batch's code" freeze "$cod" --by AK --temperature -20
refuses 4 "$(no_portion)" freeze "$(no_portion)" --by AK --temperature -20
refuses 3 "portion $tray: not frozen yet: it reached -17.9 C, and -18.0 C" \
    freeze "$tray" --by AK --temperature -17.9
refuses 3 "portion $tray is not frozen\$" thaw "$tray" --by AK
p freeze --by AK --temperature -20
expect_status 64

# --- into the freezer ------------------------------------------------------

# One that may not go in keeps the other out.
does hold "$one" --by AK --reason 'cut finger'
refuses 3 "portion $one is on hold" freeze "$tray" "$one" --by AK \
    --temperature -20
does release "$one" --by AK --reason 'washed and checked'
# Four days from the 26th are the 29th; the 26th counts as used: 3 are left.
does freeze "$tray" "$one" --by AK --temperature -20 --reason 'quiet night'
expect_out "frozen $tray, Cod with peas, 2 left, at -20.0 C: use by Sun 24 Jan 23:59 while frozen, was Sun 29 Nov 23:59;"
expect_out '  3 days left of its life in chill'
expect_out "  its label is void, print a new one: pinbone label print $tray"
expect_out "frozen $one, Cod with peas, 1 left"
refuses 3 "portion $tray is frozen already" freeze "$tray" --by AK \
    --temperature -20
refuses 3 "portion $tray is frozen: take it out with pinbone thaw $tray first" \
    use "$tray" --by LM
refuses 3 "portion $tray is frozen" use "$tray" --by LM --reason 'hurry'
# The younger one is served, the frozen ones are not in its way.
does use "$two" --by LM
does stock
expect_out "$tray               Cod with peas            2 portions, 272 g, frozen"
does --json stock
expect_out '"keep": "frozen"'
does --csv stock
expect_is "$(grep -c ',frozen,.$' out)" 2
does trace "$tray"
expect_out '  kept         frozen'
expect_out '  frozen       2026-11-26 10:00 by AK at -20.0 C, 3 days left (quiet night)'
expect_out '  use by       Sun 24 Jan 23:59, before Sun 29 Nov 23:59'
expect_out '  because      house life, frozen: 2027-01-24 (the kitchen'
does trace "$cod"
expect_out '2 left, frozen'
does log
expect_out 'freeze'
expect_out 'at -20.0 C, use by Sun 24 Jan 23:59, before Sun 29 Nov 23:59: quiet night'

# --- in the plan -----------------------------------------------------------

# Lunch starts at 12:00: 20 hours before it is 16:00 the day before.
does plan 2026-11-27/lunch
expect_out "of $tray, frozen: take it out by Thu 26 Nov 16:00;"
expect_out '            then use by Fri 27 Nov 23:59'
does --json plan 2026-11-27/lunch
expect_out '"frozen": true'
expect_out '"thaw_by": "2026-11-26T16:00:00+00:00"'
does --csv plan 2026-11-27/lunch
expect_out "frozen,cod-side,COD,,$tray,taken"
at=16:01
does plan 2026-11-27/lunch
expect_out "leave $tray, frozen, use by Sun 24 Jan 23:59:"
expect_out 'it is not thawed when the service starts'

# --- out of it -------------------------------------------------------------

day=2026-12-10
at=08:00
does thaw "$tray" --by LM
expect_out "out to thaw $tray, Cod with peas, 2 left: use by Fri 11 Dec 23:59 (house life, thawed)"
expect_out "  its label is void, print a new one: pinbone label print $tray"
expect_out 'caution: thaw in the fridge at 5 C or below'
refuses 3 "portion $tray is not frozen\$" thaw "$tray" --by LM
refuses 3 "portion $tray: it was frozen and thawed before: it is not frozen again" \
    freeze "$tray" --by LM --temperature -20
does stock
expect_out '2 portions, 272 g, thawed'
does --json trace "$tray"
expect_is "$(grep -c '"what": "frozen"' out)" 1
expect_is "$(grep -c '"what": "thawed"' out)" 1
expect_out '"temperature_tenths_c": -200'
expect_out '"bound_by": "house life, thawed"'
if has python3; then
	python3 -m json.tool out >/dev/null || fail 'not JSON'
	pass
fi
does use "$tray" --by LM --servings 1
does --json thaw "$one" --by LM
expect_is "$(get keep)" thawed
expect_is "$(get use_by)" 2026-12-11T23:59:59+00:00
expect_out '"label_void": true'
day=2026-12-12
at=00:00
refuses 3 "portion $tray expired on Fri 11 Dec 23:59" use "$tray" --by LM

# --- out of date in the freezer --------------------------------------------

day=2026-12-01
at=09:00
take_in COD whole 8 6400 2026-12-06
cod=$batch
does --json prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:2:272:2 \
    --waste 500
cold=$(get code)
does freeze "$cold" --by AK --temperature -20
day=2027-01-29
at=23:59
does --json stock
expect_out '"use_by": "2027-01-29T23:59:59+00:00"'
day=2027-01-30
at=00:00
does stock
expect_out "$cold    expired    Cod with peas            2 portions, 272 g, frozen"
refuses 3 "portion $cold expired on Fri 29 Jan 23:59: discard it" \
    thaw "$cold" --by AK
does discard "$cold" --by AK --reason 'too long in the freezer'

# --- counted ---------------------------------------------------------------

day=2026-12-01
at=10:00
does --json prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:3:272:3 \
    --waste 500
tray=$(get code)
refuses 2 '--servings is missing' count "$tray" --by AK
refuses 2 '--servings -1' count "$tray" --by AK --servings -1
refuses 2 "portion $tray has 3 on record, not 2: say why with --reason" \
    count "$tray" --by AK --servings 2
refuses 3 "portion $tray was made with 3: count again" \
    count "$tray" --by AK --servings 4 --reason x
does count "$tray" --by AK --servings 3
expect_out "counted $tray, Cod with peas: 3 left, as recorded"
does count "$tray" --by AK --servings 1 --reason 'not in the fridge'
expect_out "counted $tray, Cod with peas: 1 left, 2 missing"
does --json count "$tray" --by AK --servings 2 --reason 'behind the ice'
expect_out_is <<END
{
  "code": "$tray",
  "dish": "cod-side",
  "before": 1,
  "left": 2
}
END
does trace "$tray"
expect_out 'missing      2026-12-01 10:00 by AK: 2 (not in the fridge)'
expect_out 'found        2026-12-01 10:00 by AK: 1 (behind the ice)'
does trace "$cod"
expect_out '3 made, 1 missing, 2 left'
does --json trace "$tray"
expect_is "$(get missing)" 1

# --- killed in the middle --------------------------------------------------

# All units of a command are frozen or none is, wherever it is cut off.
day=2026-12-01
at=11:00
take_in COD whole 90 72kg 2026-12-06
cod=$batch
cut=0
n=0
for ms in 1 2 3 4 5 6 7 8 9 10 11 12 4 6 8 10; do
	does --json prep "$cod" --by AK --fish 1 --weight 100 --yield-ok \
	    --make cod-side:8:80 --waste 10
	all code >codes
	# shellcheck disable=SC2046 # eight codes
	"$PINBONE" --config station.ini --db k.db --now "${day}T$at" freeze \
	    $(cat codes) --by AK --temperature -20 >got 2>&1 &
	pid=$!
	sleep "$(printf '0.%03d' "$ms")"
	kill -9 $pid 2>/dev/null || :
	status=0
	wait $pid 2>/dev/null || status=$?
	[ $status -ne 137 ] || cut=$((cut + 1))
	ended=$status
	ran="pinbone freeze (killed after $ms ms: $ended)"
	[ $ended -eq 0 ] || [ $ended -eq 137 ] ||
	    fail "neither done nor killed: $(cat got)"
	does --csv stock
	frozen=$(tr -d '\r' <out | grep -F -f codes | grep -c ',frozen,$') || :
	[ "$frozen" -eq 8 ] || [ "$frozen" -eq 0 ] ||
	    fail "$frozen of 8 are frozen"
	[ $ended -ne 0 ] || [ "$frozen" -eq 8 ] || fail 'done, but not frozen'
	pass
	n=$((n + 1))
done
echo "cut off: $cut of $n runs"
[ $cut -ge 2 ] || fail "only $cut runs were killed in time: no test at all"
