# Minutes of a breakdown: kept, learned from, asked about when they cannot be.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen
take_in COD whole 8 6400 2026-11-29
cod=$batch

# Two cod of 800 g, whole, into four fillets skin off: by config/minutes.csv
# gut 2 x 45, fillet 2 x 90, pin-bone 4 x 45, skin 4 x 20, portion 4 x 20 and a
# tray of 45 s are 655 s: 11 minutes.
two()
{
	p prep "$cod" --by AK --fish 2 --weight 1600 --make cod-side:4:544 "$@"
}
no()
{
	st=$1
	re=$2
	shift 2
	refuses "$st" "^pinbone: $re" prep "$cod" --by AK --fish 2 \
	    --weight 1600 --make cod-side:4:544 "$@"
}

no 3 "batch $cod: 2 minutes where about 11 are expected: check --minutes, or \
keep them without learning with --minutes-ok\$" --minutes 2
no 3 "batch $cod: 56 minutes where about 11 are expected" --minutes 56
no 2 '--minutes 0 is outside' --minutes 0
no 2 '--minutes 1441 is outside' --minutes 1441
no 2 '--minutes "1.5" is not' --minutes 1.5
no 2 '--minutes "ten" is not' --minutes ten
no 2 '--minutes-ok without --minutes$' --minutes-ok

two --minutes 200 --minutes-ok
expect_status 0
expect_no_err
expect_out '200 minutes, about 11 expected: kept, not learned from'
does log
expect_out '200 minutes, about 11 expected, kept only'

two --json --minutes 20
expect_status 0
expect_out '"minutes": 20,'
expect_out '"minutes_expected": 11,'
expect_out '"minutes_learned": true,'

# 1200 s of 655 were shared out: gut (18 x 45 + 164.9) / 20 = 48.7 s, fillet
# 97.5, pin-bone (18 x 45 + 329.8) / 22 = 51.8, skin and portion 23.0, tray
# 47.0: 731 s, 13 minutes.  Nobody's minutes teach nothing.
two --minutes 20
expect_status 0
expect_out '20 minutes, about 13 expected: learned'
two
expect_status 0
expect_no_out 'minutes'

# A house without a time for clean-downs, or a broken table: said at start.
mkdir tables
cp -r "$TOP"/config/*.csv "$TOP"/config/rules tables/
settings "data_folder = $PWD/tables"
does stock
grep -v '^clean-down' "$TOP/config/minutes.csv" >tables/minutes.csv
p stock
expect_status 2
expect_one_line_err
expect_err 'minutes.csv:1:1: no row of clean-down for any in it$'
sed 's/^tray,any,,,45/tray,any,,,x/' "$TOP/config/minutes.csv" \
    >tables/minutes.csv
p stock
expect_status 2
expect_one_line_err
expect_err 'minutes.csv:[0-9]+:12: seconds "x" is not a whole number$'
