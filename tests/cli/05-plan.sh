# The prep list and order list, against arithmetic done here by hand.  The chef
# fixes the portions, so that nothing hangs on the forecast.
# Yields: FAO Fisheries Technical Paper 309 (1989), Table 1, as carried in
# config/yields.csv: cod 34 %, plaice 34 %, blue mussel meat 24 %.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen

# csv - rows of a service's plan: list,dish,code,reason,need,on_hand,portions,
# short,fish,weight.
csv()
{
	does --csv plan "$@"
	tr -d '\r' <out | cut -d , -f 1,2,5-12 >rows
}

expect_row()
{
	grep -qxF "$1" rows || { cat rows; fail "expected the row $1"; }
	pass
}

# portions SERVICE DISH:N... - the chef fixes them.
portions()
{
	at_service=$1
	shift
	for n; do
		set -- "$@" --fix "$n"
		shift
	done
	does expect "$at_service" --by AK "$@"
}

# low N - the low yield of the order's Nth line, in 1/10 000.
low()
{
	awk '/"order": \[/ { on = 1 }
	on && /"yield": \{/ { y = 1 }
	y && /"low_per_10000"/ { gsub(/[^0-9]/, "", $2); print $2; y = 0 }' \
	    out | sed -n "$1p"
}

# bought PORTIONS GRAMS LOW STEP - as purchased = edible / yield, rounded up.
bought()
{
	need=$((($1 * $2 * 10000 + $3 - 1) / $3))
	echo $(((need + $4 - 1) / $4 * $4))
}

portions 2026-11-27/dinner cod-side:10 plaice-crumb:15 mussel-toast:5
portions 2026-11-27/lunch cod-side:2

# --- nothing on hand: all of it is short -----------------------------------

csv 2026-11-27/dinner
expect_row 'prep,cod-side,,,10,0,0,10,0,0'
expect_row 'prep,plaice-crumb,,,15,0,0,15,0,0'
expect_row 'prep,mussel-toast,,,5,0,0,5,0,0'
does --json plan 2026-11-27/dinner --order-list
expect_is "$(get service_ends)" 2026-11-27T23:00:00+00:00
expect_is "$(get earlier_services)" 1
expect_is "$(get covers)" 50
cod=$(low 1)
plaice=$(low 2)
mussel=$(low 3)
# Ordered by less than the published yield, never by more.
[ "$cod" -lt 3400 ] && [ "$plaice" -lt 3400 ] && [ "$mussel" -lt 2400 ] ||
    fail "low yields $cod $plaice $mussel"
pass
expect_is "$(all order_g | tr '\n' ' ')" \
    "$(bought 10 150 "$cod" 100) $(bought 15 50 "$plaice" 100) $(bought 5 60 "$mussel" 100) "
# Two fillets a cod, four a plaice.
expect_is "$(all at_least | tr '\n' ' ')" '5 4 0 '
expect_out '"supplier": "",'
expect_no_out '"prep": ['
does plan 2026-11-27/dinner --order-list
expect_out '  Cod, whole, at least 5 of them: 10 portions'
expect_out '  Blue mussel, live: 5 portions'
expect_no_out 'PREP LIST'
does plan 2026-11-27/dinner --prep-list
expect_out 'PREP LIST  Friday 27 November 2026, dinner'
expect_out '50 covers booked, '
expect_out 'need 10, FIXED by the chef, on hand 0, MAKE 0, SHORT 10'
expect_out '== MOLLUSCS - own board and cloth'
expect_no_out 'ORDER LIST'
does plan 2026-11-27/dinner --why
expect_out 'PREP LIST'
expect_out 'ORDER LIST'
expect_out 'the chef fixed 10'
expect_out 'ordered by the low yield'
expect_out 'Weights are estimates from yields'
does plan 2026-11-27/dinner --order-list --prep-list
expect_out 'ORDER LIST'
csv 2026-11-27/LUNCH
expect_row 'prep,cod-side,,,2,0,0,2,0,0'

# --- fish of two batches, first to expire first ----------------------------

# Two cod of 800 g each: 800 x 0.34 = 272 g, 136 g a fillet, 2 fillets a fish.
take_in COD whole 2 1600 - --fish-weights 800,800
late=$batch
take_in COD whole 2 1600 2026-11-28 --fish-weights 800,800
soon=$batch
# Plaice of 600 g: 204 g, four fillets of 51 g.
take_in PLE whole 5 3kg - --fish-weights 600,600,600,600,600
flat=$batch
# 1 kg of mussels, 1 in 10 dead: 900 g give 216 g of meat, 3 portions of 60 g.
take_in MUS live - 1kg -
shell=$batch

# Lunch comes first and takes 2 portions: one fish of the batch that expires
# first.
csv 2026-11-27/lunch
expect_row 'prep,cod-side,,,2,0,2,0,0,0'
expect_row "batch,cod-side,$soon,taken,0,0,2,0,1,0"
grep -q "^cut,cod-side,$soon,cut,0,0,2,0,[12],800" rows || fail 'no cut row'
pass
! grep -q "^cut.*$late" rows || fail 'the later batch was opened'
pass
# Dinner gets what lunch leaves: 2 + 4 portions, 4 short; plaice 15 portions
# out of 4 fish; mussels what the dead leave.
csv 2026-11-27/dinner
expect_row 'prep,cod-side,,,10,0,6,4,0,0'
expect_row "batch,cod-side,$soon,taken,0,0,2,0,1,0"
expect_row "batch,cod-side,$late,taken,0,0,4,0,2,0"
expect_row 'prep,plaice-crumb,,,15,0,15,0,0,0'
expect_row "batch,plaice-crumb,$flat,taken,0,0,15,0,4,0"
made=$(sed -n 's/^prep,mussel-toast,,,5,0,\([0-9]*\),.*/\1/p' rows)
dead=$(sed -n 's/^dead_shell[a-z_]* *= *\([0-9]*\).*/\1/p' station.ini)
expect_is "$made" $((1000 * (100 - dead) / 100 * 24 / 100 / 60))
order_of=$(sed -n 's/^order,,,,\([0-9]*\),0,4,0,2,.*/\1/p' rows)
expect_is "$order_of" "$(bought 4 150 "$cod" 1)"
head -n 1 out | tr -d '\r' >first
expect_is "$(cat first)" \
    'list,dish,species,presentation,code,reason,need,on_hand,portions,short,fish,weight_g,use_by,source'
# In that order in the text, fish by fish.
does plan 2026-11-27/dinner --prep-list
expect_out "      take  $soon, use by Sat 28 Nov 23:59:
            2 portions from 1 fish"
expect_out "      take  $late, use by Sun 29 Nov 23:59:
            4 portions from 2 fish"
expect_out '800 g: 2 fillets each 136 cod-side'
expect_out '600 g: 4 fillets each 51 plaice-crumb'
expect_out '(by eye: first fish, largest portion that fits)'
expect_out 'proved: no way of cutting costs less'
expect_out 'WORKING ORDER'
does --json plan 2026-11-27/dinner
expect_out '"batch": "'"$soon"'",'
expect_out '"grams": 136'
expect_out '"proved": true,'
expect_out '"settled_by": "fixed",'
expect_out '"fixed": 10'
if has python3; then
	python3 -m json.tool out >/dev/null || fail 'not JSON'
	pass
fi

# Planning records nothing, and says the same twice.
mark
cp out once
does --json plan 2026-11-27/dinner
cmp -s once out || fail 'the same stock gave another plan'
pass
expect_unchanged

# --- what is made, used and left -------------------------------------------

# One fish of the first batch made into its two portions: on hand, and lunch
# has nothing left to make.
does --json prep "$soon" --by AK --fish 1 --weight 800 \
    --make cod-side:2:272 --frames 400 --waste 128
first=$(all code | head -n 1)
second=$(all code | tail -n 1)
csv 2026-11-27/lunch
expect_row 'prep,cod-side,,,2,2,0,0,0,0'
csv 2026-11-27/dinner
expect_row 'prep,cod-side,,,10,0,6,4,0,0'
# Used for lunch, they are no longer needed for lunch.
does use "$first" --by AK --service 2026-11-27/lunch
csv 2026-11-27/lunch
expect_row 'prep,cod-side,,,1,1,0,0,0,0'
does --json plan 2026-11-27/lunch
expect_out '"used": 1,'
# A portion on hold is not on hand.
does hold "$second" --by AK --reason 'fell on the floor?'
csv 2026-11-27/lunch
expect_row 'prep,cod-side,,,1,0,1,0,0,0'
expect_row "on-hand,cod-side,$second,held,0,0,0,0,0,0"
does release "$second" --by AK --reason 'it did not'
csv 2026-11-27/lunch
expect_row 'prep,cod-side,,,1,1,0,0,0,0'

# --- held, expired and refused batches are never allocated -----------------

does hold "$late" --by AK --reason 'smells'
csv 2026-11-27/dinner
expect_row "batch,cod-side,$late,held,0,0,0,0,0,0"
expect_row 'prep,cod-side,,,10,0,2,8,0,0'
does plan 2026-11-27/dinner
expect_out "      leave $late, use by Sun 29 Nov 23:59:
            it is on hold"
does release "$late" --by AK --reason 'iced, fine'
# Good on the day it came in, out of date before tomorrow's dinner ends.
take_in COD whole 9 7200 2026-11-26
today=$batch
csv 2026-11-27/dinner
expect_row "batch,cod-side,$today,expired,0,0,0,0,0,0"
expect_row 'prep,cod-side,,,10,0,6,4,0,0'
does --json receive --by AK --supplier gannet --document N-2 --species COD \
    --presentation whole --count 9 --weight 7200 --lot L-2 --temperature 9 \
    --area x --method caught --refuse 'warm'
refused=$(get code)
csv 2026-11-27/dinner
! grep -q "$refused" rows || fail 'a refused batch is in the plan'
pass

# --- fish that do not fit a cut --------------------------------------------

# 300 g plaice: 102 / 4 = 25 g, under 40; 1500 g: 510 / 4 = 127 g, over 80.
does discard "$flat" --by AK --reason 'dropped'
take_in PLE whole 2 600 - --fish-weights 300,300
small=$batch
take_in PLE whole 2 3kg - --fish-weights 1500,1500
large=$batch
csv 2026-11-27/dinner
expect_row "batch,plaice-crumb,$small,too-small,0,0,0,0,0,0"
expect_row "batch,plaice-crumb,$large,too-large,0,0,0,0,0,0"
expect_row 'prep,plaice-crumb,,,15,0,0,15,0,0'
# Skinless fillets as bought: the yield is 1, so 12 of 50 g do for 12.
take_in PLE fillet-skinless 12 600 2026-11-28 \
    --fish-weights 50,50,50,50,50,50,50,50,50,50,50,50
csv 2026-11-27/dinner
expect_row "batch,plaice-crumb,$batch,taken,0,0,12,0,12,0"
expect_row 'prep,plaice-crumb,,,15,0,12,3,0,0'

# --- the menu's own yield, and one nobody knows ----------------------------

cat >m2.csv <<'END'
dish,name,state,species,cut,skin,bought,low,target,high,mix,yield
one,One,raw,COD,supreme,off,whole,90,100,110,dinner:1,50
half,Half,raw,HAD,supreme,off,whole,90,100,110,dinner:12.5,
none,None,raw,LIN,supreme,off,whole,90,100,110,lunch:50,
steak,Steak,raw,HKE,troncon,on,whole,90,100,110,dinner:1,
END
cat >b2.csv <<'END'
date,service,covers
2026-12-01,dinner,48
END
does import menu m2.csv
does import bookings b2.csv
portions 2026-12-01/dinner one:1 half:6 steak:2
csv 2026-12-01/dinner
# 1 x 100 / 0.5 = 200 g.
expect_row 'prep,one,,,1,0,0,1,0,0'
expect_row 'order,,,,200,0,1,0,0,200'
expect_row 'prep,half,,,6,0,0,6,0,0'
! grep -q none rows || fail 'a dish of lunch is in the dinner plan'
pass
# A steak's yield is published nowhere: by hand.
does plan 2026-12-01/dinner
expect_out 'by hand  steak: 2 portions of 100 g, no yield known'
expect_out '      short: no yield known, order by hand'

# --- what cannot be planned ------------------------------------------------

refuses 4 '^pinbone: .*2026-12-24' plan 2026-12-24/dinner
refuses 2 '"dinner" is not a service: write it as DATE/NAME' plan dinner
refuses 2 'service "tea" has no \[service\] section' plan 2026-11-27/tea
refuses 2 'service "" has no' plan 2026-11-27/
refuses 2 '^pinbone: .*2026-02-30' plan 2026-02-30/dinner
refuses 2 '^pinbone: ' plan /dinner
day=2026-11-27
at=14:59
does plan 2026-11-27/lunch
at=15:00
refuses 3 'that service ended on Fri 27 Nov 15:00: plan a coming one' \
    plan 2026-11-27/lunch
# And it takes nothing from dinner any more.
does --json plan 2026-11-27/dinner
expect_out '"earlier_services": 0,'
