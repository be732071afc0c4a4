# What was sold: import sales, booked parties, close and correct.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen

# --- parties ---------------------------------------------------------------

cat >b.csv <<'END'
date,service,covers,parties
2026-11-20,dinner,42,2x8 4x5 6
2026-11-21,dinner,50,
2026-11-22,dinner,0,
END
does import bookings b.csv
echo 'bookings: 3 added, 0 changed, 0 as before' | expect_out_is
# The same parties in another order are no change.
sed 's/2x8 4x5 6/6 4x3 2x8 4x2/' b.csv >b2.csv
does import bookings b2.csv
echo 'bookings: 0 added, 0 changed, 3 as before' | expect_out_is

# parties TEXT REGEX - 42 covers in such parties; refused.
parties()
{
	printf 'date,service,covers,parties\n2026-11-28,dinner,42,%s\n' "$1" \
	    >b.csv
	refuses 2 "^pinbone: b\\.csv:2:22: $2" import bookings b.csv
}

parties '2x8 4x5' 'the parties are 36 guests, the covers 42: make them agree'
parties '2x8 4x5 7' 'the parties are 43 guests, the covers 42'
parties '2x8 4xfive 6' 'parties are written guests x tables.*"five" is not'
parties '0x8' 'parties are written .*guests at a table 0 is outside 1 to 500'
parties '2x0' 'parties are written .*tables 0 is outside'
parties '2x-1 44' 'parties are written .*tables -1 is outside'
parties 'x8' 'parties are written .*guests at a table "" is not'
parties "$(seq -s ' ' 1 25)" 'parties .*more than 24 different sizes'

# --- import sales ----------------------------------------------------------

head='date,service,dish,sold,ran_out_at,seated,walk_ins'
cat >s.csv <<END
$head
2026-11-20,dinner,cod-side,9,,40,5
2026-11-20,dinner,plaice-crumb,12,38,40,5
2026-11-20,dinner,mussel-toast,0,,,
2026-11-21,Dinner,cod-side,8,out,47,6
END
does import sales s.csv --by AK
echo 'sales: 4 added, 0 changed, 0 as before' | expect_out_is
does --json log --last 1
expect_is "$(get action)" import
expect_is "$(get subject)" sales
mark
does import sales s.csv
echo 'sales: 0 added, 0 changed, 4 as before' | expect_out_is
expect_unchanged

# A file that says otherwise is a correction, and leaves before and after.
sed -e 's/cod-side,9,,40,5/cod-side,10,,41,4/' \
    -e 's/crumb,12,38,40,5/crumb,12,out,,/' s.csv >s2.csv
does import sales s2.csv --by BR
echo 'sales: 0 added, 2 changed, 2 as before' | expect_out_is
does log --last 4
expect_out 'correct  2026-11-20/dinner booked 42, seated 40, walk-ins 5 ->'
expect_out '-> booked 42, seated 41, walk-ins 4'
expect_out 'correct  2026-11-20/dinner cod-side: 9 -> 10'
expect_out 'plaice-crumb: 12, ran out at 38 covers -> 12, ran out'
does import sales s2.csv
echo 'sales: 0 added, 0 changed, 4 as before' | expect_out_is
# Guests alone put right are one change.
sed 's/,41,4$/,42,4/' s2.csv >s3.csv
does import sales s3.csv
echo 'sales: 0 added, 1 changed, 3 as before' | expect_out_is
does import sales s2.csv
# Another dish of a service that is closed needs no guests again.
printf 'date,service,dish,sold\n2026-11-21,dinner,plaice-crumb,11\n' >s3.csv
does import sales s3.csv
echo 'sales: 1 added, 0 changed, 0 as before' | expect_out_is
does log --last 2
expect_out 'plaice-crumb: not counted -> 11'
# Bookings changed since do not make old sales wrong.
printf 'date,service,covers\n2026-11-20,dinner,30\n' >b.csv
does import bookings b.csv
does import sales s2.csv
echo 'sales: 0 added, 0 changed, 4 as before' | expect_out_is

# A dish off the menu was known once; one nobody knows is named.
grep -v mussel menu.csv >m.csv
does import menu m.csv
printf "%s\n2026-11-21,dinner,mussel-toast,3,,,\n" "$head" >s3.csv
does import sales s3.csv
echo 'sales: 1 added, 0 changed, 0 as before' | expect_out_is
does import menu menu.csv

# sales ROW REGEX - behind a good row; refused, and the good row is not kept.
sales()
{
	printf '%s\n2026-11-22,dinner,cod-side,2,,0,9\n%s\n' "$head" "$1" \
	    >s3.csv
	refuses 2 "^pinbone: s3\\.csv:$2" import sales s3.csv
}

sales '2026-11-21,dinner,cod,3,,,' '3:19: dish "cod" was never on the menu$'
sales '2026-11-21,supper,cod-side,3,,,' '3:12: service "supper" has no \['
sales '2026-02-30,dinner,cod-side,3,,,' '3:1: date 2026-02-30 is a day that'
sales '2026-11-21,dinner,cod-side,-1,,,' '3:28: sold -1 is outside 0 to 5000'
sales '2026-11-21,dinner,cod-side,5001,,,' '3:28: sold 5001 is outside'
sales '2026-11-21,dinner,cod-side,1.5,,,' '3:28: sold "1\.5" is not'
sales '2026-11-21,dinner,cod-side,,,,' '3:28: sold "" is not'
sales '2026-11-21,dinner,cod-side,3,late,,' '3:30: "late": a dish that ran'
sales '2026-11-21,dinner,cod-side,3,-2,,' '3:30: "-2": a dish that ran out'
sales '2026-11-22,dinner,cod-side,3,,0,9' \
    '3:19: dish cod-side of this service stands in the file twice'
sales '2026-11-22,dinner,plaice-crumb,3,,1,9' \
    '3:35: seated is 1 here and 0 above for the same service'
sales '2026-11-22,dinner,plaice-crumb,3,,0,8' '3:37: walk_ins is 8 here and 9'
sales '2026-11-21,dinner,cod-side,3,,5,' \
    '3:33: seated and walk_ins go together: walk_ins is missing'
sales '2026-11-21,dinner,cod-side,3,,,5' '3:31: .*: seated is missing'
sales '2026-11-21,dinner,cod-side,3,,-1,5' '3:31: seated -1 is outside'
sales '2026-11-19,dinner,cod-side,3,,5,5' '3:1: no bookings for 2026-11-19/d'
# Not believed: guests who never booked, portions nobody could have eaten.
sales '2026-11-21,dinner,cod-side,3,,51,5' \
    '3:1: 2026-11-21/dinner: 51 seated of 50 booked: count whom'
sales '2026-11-21,dinner,cod-side,160,,47,6' \
    '3:1: 2026-11-21/dinner: 160 of cod-side sold to 53 guests is not bel'
sales '2026-11-21,dinner,cod-side,9,54,47,6' \
    '3:1: 2026-11-21/dinner: cod-side ran out at 54 covers, but 53 came'
# Fewer guests than what stands there sold at 3 each: the old row counts too.
sales '2026-11-21,dinner,mussel-toast,0,,0,3' \
    '3:1: 2026-11-21/dinner: 11 of plaice-crumb sold to 3 guests'
printf '%s\n2026-11-22,dinner,cod-side,3,,,\n' "$head" >s3.csv
refuses 2 's3\.csv:2:1: 2026-11-22/dinner: say how many booked guests were' \
    import sales s3.csv
printf '%s\n2026-11-27,dinner,cod-side,3,,45,5\n' "$head" >s3.csv
refuses 3 's3\.csv:2:1: 2026-11-27/dinner begins on Fri 27 Nov 18:00' \
    import sales s3.csv
printf 'date,service,dish\n' >s3.csv
refuses 2 's3\.csv:1:1: column "sold" is missing' import sales s3.csv
refuses 4 'none\.csv: No such file' import sales none.csv

# The good first row of all those files was never kept.
refuses 3 '2026-11-22/dinner is not closed yet' close 2026-11-22/dinner \
    --correct --seated 0 --by AK

# --- close -----------------------------------------------------------------

dinner=2026-11-27/dinner
refuses 3 '^pinbone: 2026-11-27/dinner begins on Fri 27 Nov 18:00: what came' \
    close $dinner --seated 47 --walk-ins 6 --by AK
take_in COD gutted 10 20kg 2026-11-29
does --json prep "$batch" --by AK --fish 2 --weight 4kg \
    --make cod-side:12:1800:4 --frames 2kg
day=2026-11-27
at=18:00
first=$(all code | sed -n '/^[0-9A-Z]\{3\}-[0-9A-Z]\{3\}$/p' | head -n 1)
does use "$first" --servings 3 --service $dinner --by AK

shut()
{
	want=$1
	says=$2
	shift 2
	refuses "$want" "$says" close $dinner --by AK "$@"
}

# Not a minute before it begins; from then on it may be closed early.
at=17:59
shut 3 'dinner begins on Fri 27 Nov 18:00' --seated 47 --walk-ins 6
at=18:00
shut 2 '51 seated of 50 booked' --seated 51 --walk-ins 6
at=22:40
shut 2 'seated is missing: how many of the booked guests came' --walk-ins 6
shut 2 'walk-ins is missing: how many guests came without' --seated 47
shut 2 'seated of 50 booked: count whom nobody booked as walk-ins' \
    --seated 51 --walk-ins 6
shut 2 'seated -1 is outside' --seated -1 --walk-ins 6
shut 2 '--walk-ins "many" is not a whole' --seated 47 --walk-ins many
shut 2 '5001 walk-ins is outside 0 to 5000' --seated 47 --walk-ins 5001
set -- --seated 47 --walk-ins 6
shut 2 '--sold "cod-side": write it as DISH:N' "$@" --sold cod-side
shut 4 '--sold: dish "cod" was never on the menu' "$@" --sold cod:3
shut 2 '--sold cod-side: sold "x" is not a whole' "$@" --sold cod-side:x
shut 2 '--sold cod-side: sold -1 is outside' "$@" --sold cod-side:-1
shut 2 '--sold cod-side: nothing behind the colon' "$@" --sold cod-side:3:
shut 2 '--sold cod-side: "late": a dish that ran out says at how many' "$@" \
    --sold cod-side:3:late
shut 2 'cod-side ran out at 54 covers, but 53 came in all' "$@" \
    --sold cod-side:3:54
shut 2 '160 of cod-side sold to 53 guests is not believed: at most 3' "$@" \
    --sold cod-side:160
shut 2 '--sold cod-side is there twice: add it up' "$@" --sold cod-side:3 \
    --sold cod-side:4
shut 3 'dinner is not closed yet: close it without --correct' "$@" --correct
refuses 2 '--by is missing' close $dinner "$@"
refuses 2 'service "supper" has no' close 2026-11-27/supper "$@" --by AK
refuses 2 'is not a service: write it as DATE/NAME' close tonight "$@" --by AK
refuses 4 'no bookings for 2026-11-26/dinner' close 2026-11-26/dinner "$@" \
    --by AK
p close
expect_status 64
expect_one_line_err

does close $dinner "$@" --sold plaice-crumb:14:40 --by AK
expect_out 'CLOSED  Friday 27 November 2026, dinner'
expect_out 'covers    53: 47 of 50 booked came, 6 walked in'
expect_out 'eight times in ten; learned from 2 services'
# Scanned out, told, nobody knows.
grep -qE '^cod-side +3 .* scanned out$' out || fail 'no scanned count'
grep -qE '^plaice-crumb +14 .* out at 40$' out || fail 'no told count'
grep -qE '^mussel-toast +- .* not counted$' out || fail 'no open count'
pass
expect_out 'scanned out: portions used for this service, taken as sold'
expect_out '--sold DISH:0'
[ "$(awk 'length($0) > 80' out)" = '' ] || fail 'a line over 80 columns'
does log --last 1
expect_out '47 of 50 booked seated, 6 walk-ins, 17 sold of 2 dishes'

shut 3 'dinner is closed already: add --correct to put it right' "$@"
shut 2 'say what to correct with --seated, --walk-ins or --sold' --correct
shut 2 'plaice-crumb ran out at 40 covers, but 39 came in all' --correct \
    --seated 33
does --json close $dinner --correct --sold mussel-toast:4 --seated 46 --by BR
expect_is "$(get changed)" 2
expect_is "$(get seated)" 46
expect_is "$(get walk_ins)" 6
expect_out '"from": "before"'
does log --last 2
expect_out 'correct  2026-11-27/dinner booked 50, seated 47, walk-ins 6 -> bo'
expect_out 'mussel-toast: not counted -> 4'
mark
does close $dinner --correct --sold mussel-toast:4 --by BR
expect_out 'AS BEFORE'
expect_unchanged
# The longest remark still fits a terminal.
does close $dinner --correct --seated 45 --by BR
expect_out 'as before, out at 40'
[ "$(awk 'length($0) > 80' out)" = '' ] || fail 'a line over 80 columns'
does close $dinner --correct --seated 46 --by BR
does --csv close $dinner --correct --sold mussel-toast:5:out --by BR
expect_out 'dinner,50,46,6,mussel-toast,5,out,told,'
expect_out 'dinner,50,46,6,cod-side,3,,before,'

# The file itself refuses what is no correction.
if has sqlite3; then
	! sqlite3 k.db 'UPDATE sold SET sold = 9' 2>/dev/null ||
	    fail 'sold was changed without a correction'
	! sqlite3 k.db 'UPDATE closed SET seated = 9, corrected_id = NULL' \
	    2>/dev/null || fail 'closed was changed without a correction'
	! sqlite3 k.db 'UPDATE closed SET seated = 9' 2>/dev/null ||
	    fail 'closed was changed by an old correction'
	! sqlite3 k.db 'UPDATE closed SET seated = 9, corrected_id = 99999' \
	    2>/dev/null || fail 'closed was changed by no correction'
	! sqlite3 k.db 'UPDATE sold SET sold = 9, corrected_id = 99999' \
	    2>/dev/null || fail 'sold was changed by no correction'
	! sqlite3 k.db 'DELETE FROM sold' 2>/dev/null || fail 'sold was emptied'
	! sqlite3 k.db 'DELETE FROM closed' 2>/dev/null ||
	    fail 'closed was emptied'
	pass
fi
