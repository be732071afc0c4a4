# What a service is expected to ask for, what the chef types, and the backtest
# against arithmetic done here.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen

dinner=2026-11-27/dinner

# narrow - every line fits a terminal.
narrow()
{
	[ -z "$(awk 'length($0) > 80' out)" ] || fail 'a line over 80 columns'
	pass
}

# --- nothing learned yet ----------------------------------------------------

does forecast
expect_out 'FORECAST  Harbour Kitchen, made 2026-11-26 09:00'
expect_out '== Friday 27 November 2026, lunch'
expect_out '== Friday 27 November 2026, dinner'
expect_out 'no service is closed yet: house figures and the menu'
expect_out 'share 20 % (menu 20 %, 0 services); ratio 80 %, house figure'
narrow
# The first in the order of the day.
grep -n '^== ' out | head -n 1 | grep -q lunch || fail 'dinner before lunch'
pass
does forecast --backtest
expect_out 'nothing to compare yet'
narrow
does --json forecast --backtest
expect_is "$(get services)" 0
expect_is "$(get better_per_10000)" null

refuses 4 'no bookings for 2026-11-28/dinner: import' forecast 2026-11-28/dinner
refuses 2 'service "supper" has no \[service\]' forecast 2026-11-27/supper
refuses 2 'is not a service: write it as DATE/NAME' forecast tonight
refuses 2 'date 2026-02-30 is a day that does not' forecast 2026-02-30/dinner
run --config station.ini --db k.db forecast --no-such
expect_status 64

# --- typed by the chef ------------------------------------------------------

types()
{
	want=$1
	says=$2
	shift 2
	refuses "$want" "$says" expect $dinner --by AK "$@"
}

types 2 'cod-side: floor 12 is above ceiling 10: change one, or --clear cod-' \
    --floor cod-side:12 --ceiling cod-side:10
types 2 'cod-side: floor 12 is above the fixed number 10' \
    --floor cod-side:12 --fix cod-side:10
types 2 'cod-side: the fixed number 12 is above ceiling 10' \
    --fix cod-side:12 --ceiling cod-side:10
types 2 '--floor cod-side is there twice' --floor cod-side:1 --floor cod-side:2
types 2 '--floor "cod-side": write it as DISH:PORTIONS' --floor cod-side
types 2 '--floor cod-side "many" is not a whole number' --floor cod-side:many
types 2 '--floor cod-side -1 is outside' --floor cod-side:-1
types 2 '--fix cod-side 2001 is outside 0 to 2000' --fix cod-side:2001
types 4 '--fix: dish "cod" was never on the menu' --fix cod:3
types 4 '--clear: dish "cod" was never on the menu' --clear cod
types 2 '--covers 2001 is outside 0 to 2000' --covers 2001
types 2 '--covers "full" is not a whole' --covers full
refuses 2 '--by is missing' expect $dinner --covers 60
refuses 2 'plaice-crumb is not on the menu of lunch: give it a share' \
    expect 2026-11-27/lunch --fix plaice-crumb:3 --by AK
refuses 4 'no bookings for' expect 2026-11-28/dinner --covers 3 --by AK
at=23:00
day=2026-11-27
types 3 'that service ended on Fri 27 Nov 23:00: type numbers for a coming' \
    --covers 60
at=09:00
day=2026-11-26

does expect $dinner --covers 60 --floor cod-side:25 --ceiling plaice-crumb:9 \
    --fix mussel-toast:7 --by AK
expect_out 'covers  60 typed by the chef (50 booked)'
grep -qE '^cod-side .* 25 .* floor, typed$' out || fail 'floor not shown'
grep -qE '^plaice-crumb .* 9 .* ceiling, typed$' out || fail 'no ceiling'
grep -qE '^mussel-toast .* 7 .* fixed, typed$' out || fail 'no fixed number'
pass
expect_out 'typed by the chef: at least 25'
expect_out 'typed by the chef: at most 9'
expect_out 'typed by the chef: exactly 7'
narrow
does --json forecast $dinner
expect_is "$(get typed_covers)" 60
expect_is "$(get covers_per_100)" 6000
expect_is "$(all floor | tr '\n' ' ')" '25 null null '
expect_is "$(all fixed | tr '\n' ' ')" 'null 7 null '
expect_is "$(all bound_by | tr '\n' ' ')" 'floor fixed ceiling '
expect_is "$(all target | tr '\n' ' ')" '25 7 9 '
# Against what was typed before, too.
types 2 'cod-side: floor 25 is above ceiling 20' --ceiling cod-side:20
# A number that does not settle anything is shown as typed all the same.
does expect $dinner --floor cod-side:1 --by AK
expect_out 'typed by the chef: at least 1'
grep -qE '^cod-side .* one service only$' out || fail 'a floor of 1 settled it'
pass
does log --last 1
expect_out 'cod-side: at least 25 -> at least 1'
mark
does expect $dinner --floor cod-side:1 --covers 60 --by AK
expect_unchanged
does expect $dinner --clear covers --clear cod-side --clear mussel-toast \
    --clear plaice-crumb --by AK
expect_no_out 'typed by the chef'
expect_out '50 booked, 93 % of them come'
does log --last 4
expect_out 'covers: 60 -> nothing'
expect_out 'plaice-crumb: at most 9 -> nothing'
mark
does expect $dinner
expect_unchanged

# --- backtest against the simple rule ---------------------------------------

# Twenty-five dinners of which a fifth of all covers took cod and three in ten
# plaice, as the menu says, so that the learned share never moves; walk-ins
# change, which the rule "booked x share x 1.1" cannot see.
history()
{
	awk -v n="$1" 'BEGIN {
		print "date,service,covers" >"b.csv"
		print "date,service,dish,sold,ran_out_at,seated,walk_ins" \
		    >"s.csv"
		for (i = 0; i < n; i++) {
			day = sprintf("2026-10-%02d,dinner", i + 1)
			booked = 40 + i % 4 * 10
			walk = 5 + (i % 3 == 0) * 20
			covers = booked - 5 + walk
			print day "," booked >"b.csv"
			print day ",cod-side," covers / 5 ",," booked - 5 "," \
			    walk >"s.csv"
			print day ",plaice-crumb," covers * 3 / 10 ",,," \
			    >"s.csv"
		}
	}'
	does import bookings b.csv
	does import sales s.csv
}

# Loss at the house ratio of 0.8, in 1/10 000 portions, and the rest.
rule()
{
	awk -v n="$1" 'BEGIN {
		for (i = 0; i < n; i++) {
			booked = 40 + i % 4 * 10
			covers = booked + (i % 3 == 0) * 20
			any = 0
			for (k = 2; k <= 3; k++) {
				have = booked * k * 11 / 100
				have = int(have) + (int(have) < have)
				over = have - covers * k / 10
				loss += over > 0 ? over * 2000 : -over * 8000
				left += over > 0 ? over : 0
				short += over < 0 ? -over : 0
				outs += over < 0
				any += over < 0
			}
			days += any > 0
		}
		print int(loss / (2 * n)), outs, days, short, left
	}'
}

# seen - the same five numbers of the rule in the CSV.
seen()
{
	sed -n 's/\r$//; s/^booked-share-1\.1,//p' out |
	    awk -F, '{ print $3, $4, $5, $6, $7 }'
}

history 19
does forecast --backtest
expect_out 'all sittings, 19 services, 38 dish counts'
expect_out '19 services: under 20, too few to say which is better'
expect_no_out 'below'
expect_no_out 'above'
does --json forecast --backtest
expect_is "$(get better_per_10000)" null
expect_is "$(get ratio_from)" ''
does --csv forecast --backtest
expect_is "$(seen)" "$(rule 19)"

history 25
does import sales s.csv
expect_out '0 added, 0 changed, 50 as before'
does --csv forecast --backtest
expect_is "$(seen)" "$(rule 25)"
does --csv forecast --backtest $dinner
expect_is "$(seen)" "$(rule 25)"
# Only what was before it.
does --csv forecast --backtest 2026-10-11/dinner
expect_is "$(seen)" "$(rule 10)"
# The service of today, once it is closed, is part of it.
day=2026-10-25
at=23:30
does --csv forecast --backtest
expect_is "$(seen)" "$(rule 25)"
day=2026-11-26
at=09:00
does forecast --backtest 2026-11-27/lunch
expect_out 'nothing to compare yet'
does forecast --backtest
expect_out '25 services, 50 dish counts'
grep -qE "^the forecast's loss is [0-9.]+ % (below|above) the rule's\$" out ||
    fail 'no verdict'
pass
narrow
# The verdict is the loss of both, as printed in the JSON.
does --json forecast --backtest
set -- $(all loss_per_10000)
expect_is "$(get better_per_10000 | awk '{ print int($1 / 20) }')" \
    "$(awk -v a="$1" -v b="$2" 'BEGIN { print int(10000 * (1 - a / b) / 20) }')"

# The forecast of a past service knows nothing of what came after: it is what
# it was when only the nine services before it were there.
does --json forecast 2026-10-10/dinner
expect_is "$(get services_learned)" 9
expect_is "$(get over)" true
does --json forecast $dinner
expect_is "$(get services_learned)" 25
expect_is "$(all share_per_10000 | tr '\n' ' ')" '2000 1000 3000 '
does --csv forecast $dinner
expect_is "$(head -n 1 out | cut -d, -f1-6)" \
    date,service,booked,covers_per_100,typed_covers,dish
expect_is "$(sed -n '2s/,.*//p' out)" 2026-11-27

# --- popularity index --------------------------------------------------------

# 2000 sold, of them 135 and 160: 6.75 % and 8 %; 1500 guests expected then take
# 101 and 120, and 10 % more of them 111 and 132 [wizedu.com/questions/288566].
# The menu states other shares, which 2000 covers must outweigh.
cat >pop.csv <<'END'
dish,name,state,species,cut,skin,bought,low,target,high,mix
first,First,raw,COD,fillet,off,whole,100,150,200,dinner:6
second,Second,raw,PLE,fillet,off,whole,40,50,80,dinner:9
END
does import menu pop.csv
printf '%s\n' date,service,covers 2026-11-19,dinner,2000 2026-11-26,dinner,0 \
    >b.csv
does import bookings b.csv
printf '%s\n' date,service,dish,sold,seated,walk_ins \
    2026-11-19,dinner,first,135,2000,0 2026-11-19,dinner,second,160,2000,0 \
    >s.csv
does import sales s.csv
# takes COVERS - whole portions of both.
takes()
{
	does expect 2026-11-26/dinner --covers "$1" --by AK
	does --json forecast 2026-11-26/dinner
	all expected_per_100 | awk '{ printf "%d ", ($1 + 50) / 100 }'
}
expect_is "$(takes 1500)" '101 120 '
expect_is "$(takes 1650)" '111 132 '

# --- long names ---------------------------------------------------------------

long=a-dish-with-the-longest-of-codes
long=$(printf '%.31s' "$long")
printf '%s\n%s,Long,raw,COD,fillet,off,whole,1,2,3,dinner:100\n' \
    "$(head -n 1 pop.csv)" "$long" >m.csv
does import menu m.csv
does forecast 2026-11-26/dinner
expect_out "$long"
narrow
day=2026-11-26
at=23:10
does close 2026-11-26/dinner --seated 0 --walk-ins 2000 --sold \
    "$long:1999:1999" --by AK
expect_out 'out at 1999'
narrow
