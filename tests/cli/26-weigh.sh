# The scale at the command line, where there is none or the options do not fit.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen
none='no scale is set: key the weight, or set address of \[scale\] in the'

refuses 4 "^pinbone: $none settings\$" weigh
refuses 4 "^pinbone: $none" weigh --each 3
refuses 2 '^pinbone: --each 0 is outside 1 to 300' weigh --each 0
refuses 2 '^pinbone: --each 301 is outside 1 to 300' weigh --each 301
refuses 2 '^pinbone: --each "a few" is not a whole number' weigh --each 'a few'
refuses 2 '^pinbone: --wait 0 is outside 1 to 600' weigh --wait 0
refuses 2 '^pinbone: --wait 601 is outside' weigh --wait 601
refuses 2 '^pinbone: --wait "1.5" is not a whole number' weigh --wait 1.5
refuses 64 '^pinbone weigh: takes no operands' weigh now

# Goods in: nothing is recorded without a weight.
goods='--by AK --supplier gannet --document N-7 --species COD
--presentation gutted --lot L-7 --temperature 1.5 --area 27.7.e
--method caught --accept'

in_by_scale()
{
	st=$1
	re=$2
	shift 2
	# shellcheck disable=SC2086
	refuses "$st" "^pinbone: $re" receive $goods "$@"
	expect_no_out batch
}

in_by_scale 4 "$none" --count 4 --weigh
in_by_scale 4 "$none" --count 4 --weigh-each
in_by_scale 2 '--weigh goes neither with --weight nor with --weigh-each$' \
    --count 4 --weigh --weight 9600
in_by_scale 2 '--weigh goes neither' --count 4 --weigh --weigh-each
in_by_scale 2 '--weigh-each does not go with --fish-weights$' \
    --count 2 --weigh-each --fish-weights 900,800
in_by_scale 2 '--weigh-each needs --count: how many fish there are$' \
    --weigh-each
in_by_scale 2 '--count 301 is outside 1 to 300' --count 301 --weigh-each
in_by_scale 2 '--wait 0 is outside' --count 4 --weigh --wait 0
# What can be known wrong before is said before anyone weighs.
refuses 2 '^pinbone: --by is missing' receive --weigh --accept
refuses 2 '^pinbone: decide: one of' receive --by AK --weigh

# A breakdown.
take_in COD gutted 4 9600 -
refuses 4 "^pinbone: $none" prep "$batch" --by AK --fish 1 --weigh \
    --make cod-side:2:300
refuses 2 '^pinbone: --weigh does not go with --weight$' prep "$batch" \
    --by AK --fish 1 --weigh --weight 2400 --make cod-side:2:300
refuses 2 '^pinbone: --weight is missing$' prep "$batch" --by AK --fish 1 \
    --make cod-side:2:300

# An address that cannot be one, and one with no scale behind it.
scale_is()
{
	awk -v to="$1" '/^\[/ { here = $0 == "[scale]" }
	    here && /^address = / { $0 = "address = " to }
	    { print }' station.ini >station.new
	mv station.new station.ini
}

scale_is serial:3
refuses 2 '^pinbone: scale address "serial:3" is not known: usb:any, ' weigh
scale_is usb
refuses 2 '^pinbone: scale address "usb" is not known' weigh
scale_is usb:922
refuses 2 '^pinbone: "usb:922" names no scale: write usb:any, usb:VVVV:PPPP or' \
    weigh
scale_is usb:cmd=ZPL
refuses 2 '^pinbone: "usb:cmd=ZPL" names no scale' weigh
