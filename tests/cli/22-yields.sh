# Yields that learn from breakdowns, fish weighed one by one, prices.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen

# --- before anything was learned -------------------------------------------

# FAO Fisheries Technical Paper 309 (1989), table 1: cod, skinless fillet 34 %.
does species cod
expect_out 'whole    to skinless     34 %'
expect_no_out 'learned here'
does --json species cod
expect_out '"learned": [],'
expect_out '"fish_cv_per_10000": 2000'
# A file that was named must be there; without a name it need not.
run --config station.ini --db none.db species cod
expect_status 4
expect_one_line_err

# --- goods in --------------------------------------------------------------

base='--by AK --supplier gannet --document N-7 --species COD
--presentation whole --lot L-7 --temperature 1.5 --area 27.7.e
--method caught --accept'
# in STATUS REGEX OPTION... - goods that are not taken in.
in_refused()
{
	st=$1
	re=$2
	shift 2
	# shellcheck disable=SC2086
	refuses "$st" "^pinbone: $re" receive $base "$@"
}
in_refused 2 '--fish-weights has 2 fish, --count says 3$' --count 3 \
    --fish-weights 800,820
in_refused 2 '--fish-weights sums up to 1620 g, --weight says 2000 g$' \
    --weight 2000 --fish-weights 800,820
in_refused 2 '--fish-weights \(grams\) "5kg" is not a whole number$' \
    --fish-weights 2,5kg
in_refused 2 '--fish-weights \(grams\) "" is not a whole number$' \
    --fish-weights ''
in_refused 2 '--fish-weights \(grams\): more than 300 fish$' --fish-weights \
    "$(awk 'BEGIN { for (i = 0; i < 300; i++) printf "500,"; print 500 }')"
in_refused 2 '--price "12.505"' --weight 9kg --price 12.505
in_refused 2 '--price "-1" is outside 0 to' --weight 9kg --price -1

# shellcheck disable=SC2086
does --json receive $base --fish-weights 800,820,780,900,700 --price 12.50
expect_out '"fish": 5,'
expect_out '"weight_g": 4000,'
expect_out '"price": 1250,'
cod=$(get code)

# --- which fish ------------------------------------------------------------

refuses 4 "batch $cod: fish 6 is not here\$" prep "$cod" --by AK --which 6 \
    --weight 800 --make cod-side:2:272
refuses 3 "batch $cod: the fish named weighed 1600 g at goods in, 1400 g now" \
    prep "$cod" --by AK --which 4,5 --weight 1400 --make cod-side:4:500
does prep "$cod" --by AK --which 4,5 --weight 1590 --make cod-side:4:500 \
    --trim 60
expect_out '; 3 fish left
yield whole to skinless: 35.22 %, 34 % expected; learned'
refuses 4 'fish 4 is not here$' prep "$cod" --by AK --which 4 --weight 900 \
    --make cod-side:2:300
does prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:2:272
expect_out 'the fish left are no longer known one by one: --which names those'
refuses 3 'its fish are not known one by one: leave --which out$' \
    prep "$cod" --by AK --which 1 --weight 800 --make cod-side:2:272

# --- the gate asks ---------------------------------------------------------

says="batch $cod, COD whole to skinless: 8 % came out where 34\\.[0-9]* % is"
says="$says expected .*: weigh again, or record it with --yield-ok"
refuses 3 "$says" prep "$cod" --by AK --fish 1 --weight 800 \
    --make cod-side:1:64
does --json species cod
expect_is "$(get breakdowns)" 2
mean=$(get mean_per_10000)
does --json prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:1:64 \
    --yield-ok
expect_out '"verdict": "set aside",'
expect_out '"observed_per_10000": 800,'
does log
expect_out 'yield set aside'
does --json species cod
expect_is "$(get breakdowns)" 2
expect_is "$(get mean_per_10000)" "$mean"

# --- learned against published ---------------------------------------------

does species cod
expect_out 'Yields, learned here (mean, 80 % range of the mean)
  whole    to skinless'
expect_out '  2 breakdowns
    published             34 %  (30.76 % to 38.46 %)
                             FAO Fisheries Technical Paper 309 (1989) Table 1'
expect_out 'gannet'
expect_out '2 breakdowns, too few to plan with'
expect_out 'Fish of one batch differ by'
[ "$(awk '{ if (length > n) n = length } END { print n }' out)" -le 140 ]
take_in COD whole 4 3200 2026-11-29
for n in 1 2 3; do
	does prep "$batch" --by AK --fish 1 --weight 800 --make cod-side:2:272
done
does species cod
expect_no_out 'too few to plan with'
does --json species cod
expect_is "$(all breakdowns | sort -u)" 5
expect_out '"supplier": "gannet",'
expect_out '"used": true,'
expect_out '"published": {
        "per_10000": 3400,'

# A cut that loses nothing here teaches nothing.
does --json prep "$batch" --by AK --fish 1 --weight 800 --frames 500 \
    --trim 200
expect_out '"verdict": "nothing to learn"'
