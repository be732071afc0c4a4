# The prep list and order list, against arithmetic done here by hand.
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

# --- nothing on hand: all of it is short -----------------------------------

# Dinner, 50 covers:	cod 20 %	10 portions x 150 g = 1500 g
#						1500 / 0.34 = 4411.8 -> 4412 -> 4500 g
#			plaice 30 %	15 x 50 g = 750 / 0.34 = 2205.9 -> 2206 -> 2300 g
#			mussel 10 %	5 x 60 g = 300 / 0.24 = 1250 g exactly -> 1300 g
csv 2026-11-27/dinner
expect_row 'prep,cod-side,,,10,0,0,10,0,0'
expect_row 'prep,plaice-crumb,,,15,0,0,15,0,0'
expect_row 'prep,mussel-toast,,,5,0,0,5,0,0'
does --json plan 2026-11-27/dinner --order-list
expect_out_is <<'END'
{
  "kitchen": "Harbour Kitchen",
  "date": "2026-11-27",
  "service": "dinner",
  "covers": 50,
  "made": "2026-11-26T09:00:00+00:00",
  "service_ends": "2026-11-27T23:00:00+00:00",
  "earlier_services": 1,
  "order": [
    {
      "species": "COD",
      "presentation": "whole",
      "portions": 10,
      "need_g": 4412,
      "order_g": 4500
    },
    {
      "species": "PLE",
      "presentation": "whole",
      "portions": 15,
      "need_g": 2206,
      "order_g": 2300
    },
    {
      "species": "MUS",
      "presentation": "live",
      "portions": 5,
      "need_g": 1250,
      "order_g": 1300
    }
  ]
}
END
does plan 2026-11-27/dinner --order-list
expect_out '   4.500 kg  Cod, whole: 10 portions
             cod-side: 10 x 150 g = 1500 g, bought 4412 g, at least 5 fish;'
expect_out '   1.300 kg  Blue mussel, live: 5 portions'
expect_no_out 'PREP LIST'
does plan 2026-11-27/dinner --prep-list
expect_out 'PREP LIST  Friday 27 November 2026, dinner, 50 covers'
expect_out '== MOLLUSCS - own board and cloth'
expect_out 'why: 50 covers x 20 % = 10.00, rounded up to 10'
expect_no_out 'ORDER LIST'
does plan 2026-11-27/dinner
expect_out 'PREP LIST'
expect_out 'ORDER LIST'
expect_out 'Weights are estimates from published yields'

# Lunch, 49 covers, 4 %: 1.96 portions are 2.
csv 2026-11-27/LUNCH
expect_row 'prep,cod-side,,,2,0,0,2,0,0'

# --- fish of two batches, first to expire first ----------------------------

# Two cod of 800 g each: 800 x 0.34 = 272 g, 136 g a fillet, 2 fillets a fish.
take_in COD whole 2 1600 -
late=$batch
take_in COD whole 2 1600 2026-11-28
soon=$batch
# Plaice of 600 g: 204 g, four fillets of 51 g.
take_in PLE whole 5 3kg -
flat=$batch
# 1 kg of mussels: 240 g of meat, 4 portions of 60 g.
take_in MUS live - 1kg -
shell=$batch

# Lunch comes first and takes 2 portions: one fish of the batch that expires
# first.
csv 2026-11-27/lunch
expect_row 'prep,cod-side,,,2,0,2,0,0,0'
expect_row "batch,cod-side,$soon,taken,0,0,2,0,1,800"
! grep -q "$late" rows || fail 'the later batch was opened'
pass
# Dinner gets what lunch leaves: 2 + 4 portions, 4 short; plaice 15 portions
# out of 4 fish, one fillet to spare; mussels 4, 1 short.
csv 2026-11-27/dinner
expect_row 'prep,cod-side,,,10,0,6,4,0,0'
expect_row "batch,cod-side,$soon,taken,0,0,2,0,1,800"
expect_row "batch,cod-side,$late,taken,0,0,4,0,2,1600"
expect_row 'prep,plaice-crumb,,,15,0,15,0,0,0'
expect_row "batch,plaice-crumb,$flat,taken,0,0,15,0,4,2400"
expect_row 'prep,mussel-toast,,,5,0,4,1,0,0'
expect_row "batch,mussel-toast,$shell,taken,0,0,4,0,0,1000"
# 4 x 150 = 600 / 0.34 = 1764.7 -> 1800; 1 x 60 / 0.24 = 250 -> 300.
expect_row 'order,,,,0,0,4,0,0,1800'
expect_row 'order,,,,0,0,1,0,0,300'
head -n 1 out | tr -d '\r' >first
expect_is "$(cat first)" \
    'list,dish,species,presentation,code,reason,need,on_hand,portions,short,fish,weight_g,use_by,source'
# In that order in the text, with the fillets.
does plan 2026-11-27/dinner --prep-list
expect_out "      take  1 fish of $soon, about 800 g, use by Sat 28 Nov 23:59
            2 fillets of about 136 g, 1 portion each
      take  2 fish of $late, about 1.600 kg, use by Sun 29 Nov 23:59
            4 fillets of about 136 g, 1 portion each"
expect_out "            16 fillets of about 51 g, 1 portion each, 1 to spare"
does --json plan 2026-11-27/dinner
if has python3; then
	python3 -m json.tool out >/dev/null || fail 'not JSON'
	pass
fi

# Planning records nothing.
mark
does plan 2026-11-27/dinner
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
expect_out "      leave $late, use by Sun 29 Nov 23:59: on hold"
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
take_in PLE whole 2 600 -
small=$batch
take_in PLE whole 2 3kg -
large=$batch
csv 2026-11-27/dinner
expect_row "batch,plaice-crumb,$small,too-small,0,0,0,0,0,0"
expect_row "batch,plaice-crumb,$large,too-large,0,0,0,0,0,0"
expect_row 'prep,plaice-crumb,,,15,0,0,15,0,0'
# Skinless fillets as bought: the yield is 1, so 12 of 50 g do for 12.
take_in PLE fillet-skinless 12 600 2026-11-28
csv 2026-11-27/dinner
expect_row "batch,plaice-crumb,$batch,taken,0,0,12,0,12,600"
expect_row 'prep,plaice-crumb,,,15,0,12,3,0,0'

# --- rounding, and a dish of the kitchen's own yield -----------------------

cat >m2.csv <<'END'
dish,name,state,species,cut,skin,bought,low,target,high,mix,yield
one,One,raw,COD,supreme,off,whole,90,100,110,dinner:0.01,50
half,Half,raw,HAD,supreme,off,whole,90,100,110,dinner:12.5,
none,None,raw,LIN,supreme,off,whole,90,100,110,lunch:50,
END
cat >b2.csv <<'END'
date,service,covers
2026-12-01,dinner,1
2026-12-02,dinner,48
2026-12-03,dinner,49
2026-12-04,dinner,0
2026-12-05,dinner,5000
END
does import menu m2.csv
does import bookings b2.csv
csv 2026-12-01/dinner
# 0.0001 of one cover is still a portion; 1 x 100 / 0.5 = 200 g.
expect_row 'prep,one,,,1,0,0,1,0,0'
expect_row 'order,,,,0,0,1,0,0,200'
expect_row 'prep,half,,,1,0,0,1,0,0'
! grep -q none rows || fail 'a dish of lunch is in the dinner plan'
pass
csv 2026-12-02/dinner
expect_row 'prep,half,,,6,0,0,6,0,0'
csv 2026-12-03/dinner
expect_row 'prep,half,,,7,0,0,7,0,0'
csv 2026-12-04/dinner
expect_row 'prep,half,,,0,0,0,0,0,0'
csv 2026-12-05/dinner
expect_row 'prep,half,,,625,0,0,625,0,0'

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
