# Goods in: every field, and what may not be accepted.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen

# without OPTION - the good command line less one option and its value.
# with OPTION VALUE... - the good one with others in place.
base='--by AK --supplier gannet --document N-7 --species COD
--presentation gutted --count 4 --weight 9600 --lot L-7 --temperature 1.5
--area 27.7.e --method caught --gear Trawls --caught 2026-11-24
--supplier-date 2026-11-28 --accept'

without()
{
	option=$1
	says=$2
	set --
	skip=0
	for word in $base; do
		if [ "$word" = "$option" ]; then
			skip=1
		elif [ $skip = 1 ]; then
			skip=0
		else
			set -- "$@" "$word"
		fi
	done
	refuses 2 "^pinbone: $says" receive "$@"
}

# with STATUS REGEX OPTION VALUE... - later options win.
with()
{
	st=$1
	re=$2
	shift 2
	# shellcheck disable=SC2086
	refuses "$st" "^pinbone: $re" receive $base "$@"
}

for option in supplier document species presentation weight lot \
    temperature area method; do
	case $option in
	weight) says='--count without --weight' ;;
	*) says="--$option is missing\$" ;;
	esac
	without --$option "$says"
done
without --by '--by is missing: every record needs the initials'

with 4 '.*"wren"' --supplier wren
with 2 '--document is empty$' --document ''
with 2 '--document is 48 bytes long, at most 47 fit$' \
    --document "$(printf '%48s' | tr ' ' d)"
with 2 '--document holds a control character$' --document "$(printf 'N\033[7m')"
with 2 '--lot is not valid UTF-8 text$' --lot "$(printf 'L\351')"
with 2 '--lot holds a control character$' --lot 'L
7'
with 4 '.*"unicorn"' --species unicorn
with 4 '.*""' --species ''
with 2 'presentation "frozen" is not one of whole, gutted' \
    --presentation frozen
with 2 '--weight "0" is not above zero$' --weight 0
with 2 '--weight "-5kg" is not above zero$' --weight -5kg
with 2 '--weight "12,4" is not a weight: whole grams such as 850, or kilo' \
    --weight 12,4
with 2 '--weight "1,000" is not a weight' --weight 1,000
with 2 '--weight "9 lb" is not a weight' --weight '9 lb'
with 2 '--weight "heavy" is not a weight' --weight heavy
with 2 '--weight "" is not a weight' --weight ''
with 2 '--weight "96000kg" is more than [0-9]+ kg: check the unit$' \
    --weight 96000kg
with 2 '--weight "99999999999999999999" is not a weight' \
    --weight 99999999999999999999
with 2 '4 fish of 1 g each cannot be: check --count and --weight$' --weight 7
with 2 '--count 0 is outside' --count 0
with 2 '--count -4 is outside' --count -4
with 2 '--count "4\.5" is not a whole number$' --count 4.5
with 2 '--count "four" is not a whole number$' --count four
with 2 '9000 fish of 1 g each cannot be' --count 9000
with 2 '1 fish of 900000 g each cannot be' --count 1 --weight 900kg
with 2 '--temperature "38F" is in Fahrenheit: give degrees Celsius$' \
    --temperature 38F
with 2 '--temperature "cold" is not a temperature such as 1\.5$' \
    --temperature cold
with 2 '--temperature "61" is outside -60 to 60 degrees Celsius$' \
    --temperature 61
with 2 '--temperature "1\.55" is not a temperature' --temperature 1.55
with 2 '--method "netted" is not known: caught, caught-freshwater or farmed$' \
    --method netted
with 2 '--area is empty$' --area ''
with 2 '--gear is 48 bytes long' --gear "$(printf '%48s' | tr ' ' g)"
with 2 '--caught "24/11" is not a date: write it as YYYY-MM-DD$' --caught 24/11
with 2 '--caught 2026-11-31 is a day that does not exist' --caught 2026-11-31
with 3 '--caught 2026-11-27 is in the future: read the label again$' \
    --caught 2026-11-27
with 3 '--caught 2029-11-24 is in the future' --caught 2029-11-24
with 2 '--supplier-date "soon" is not a date' --supplier-date soon
with 3 '--supplier-date 2026-11-23 is before --caught 2026-11-24' \
    --supplier-date 2026-11-23
with 3 "the supplier's use-by has passed: it can only be refused" \
    --supplier-date 2026-11-25
with 3 "the supplier's use-by has passed" --supplier-date 2026-11-25 \
    --by XYZ
with 2 '--by \(initials\) is 16 bytes long, at most 15 fit$' \
    --by abcdefghijklmnop
with 2 '--by \(initials\) is empty$' --by ''

# One decision, by a person.
with 2 'decide: one of --accept, --note TEXT or --refuse REASON$' --note ok
with 2 'decide: one of' --refuse bad
without_accept=${base% --accept}
# shellcheck disable=SC2086
refuses 2 '^pinbone: decide: one of' receive $without_accept
# shellcheck disable=SC2086
refuses 2 '^pinbone: decide' receive $without_accept --note x --refuse y
# shellcheck disable=SC2086
refuses 2 '^pinbone: the note or reason is empty' receive $without_accept \
    --note ''
# shellcheck disable=SC2086
refuses 2 '^pinbone: the note or reason is empty' receive $without_accept \
    --refuse ''

# Limits of the settings: a note above 3.0, refusal above 5.0, live above 7.0.
with 3 '3\.1 C is above 3\.0 C: accept it with --note TEXT or refuse it with' \
    --temperature 3.1
with 3 '5\.1 C is above the limit of 5\.0 C: it can only be refused' \
    --temperature 5.1
# shellcheck disable=SC2086
refuses 3 '^pinbone: 5\.1 C is above the limit' receive $without_accept \
    --temperature 5.1 --note 'iced at once'
take_in COD gutted 4 9600 - --temperature 3.0
take_in COD gutted 4 9600 - --temperature 5.0 --note 'iced at once'
expect_out '"decision": "noted"'
with 3 '7\.1 C is above the limit of 7\.0 C' --species MUS \
    --presentation live --temperature 7.1
take_in MUS live - 9kg - --temperature 7.0
live=$batch
expect_out '"fish": 0,'
expect_out '"cautions": ['
expect_out 'live shellfish: keep the tag'
does trace "$live"
expect_out 'house life, live batch: 2026-11-28'

# What was recorded, word for word.
# shellcheck disable=SC2086
does --json receive $base
code=$(get code)
expect_out_is <<END
{
  "code": "$code",
  "decision": "accepted",
  "species": "COD",
  "presentation": "gutted",
  "fish": 4,
  "weight_g": 9600,
  "price": null,
  "received": "2026-11-26T09:00:00+00:00",
  "use_by": "2026-11-28T23:59:59+00:00",
  "judgement": {
    "marks": {},
    "papers_missing": [
      {
        "rule": "Reg. (EU) 931/2011 Art. 3(1)",
        "field": "h",
        "words": "date of dispatch"
      }
    ],
    "season": [],
    "berried": false,
    "soft_shelled": false,
    "v_notched": false
  },
  "cautions": []
}
END
# A batch of the day: year, day of the year, running number, check.
case $code in
26330-[0-9][0-9][0-9A-Z]) pass ;;
*) fail "not a batch code of the day: $code" ;;
esac

# The arithmetic here first, by the example of the GRid standard for MOD 37,36,
# A1-2425G-ABC1234002-M (value from memory).
expect_is "$(check_of A12425GABC1234002)" M
for c in $live $code; do
	body=$(printf '%s' "$c" | tr -d -)
	expect_is "$(check_of "${body%?}")" "${body#???????}" "in $c"
done

# Histamine and shellfish are said where the fish is.
take_in MAC whole 10 4kg -
expect_out 'can form histamine'
take_in LBE live 2 1400 -
expect_out 'shellfish allergen'

# A name does as well as a code, in any case; F spelled out in Celsius does.
does receive --by AK --supplier 'GANNET FISH' --document N-8 \
    --species 'melanogrammus aeglefinus' --presentation Whole --weight 1.5kg \
    --lot L --temperature '2,5 °C' --area x --method FARMED --accept
expect_out 'Haddock, whole, 1.500 kg, use by Sun 29 Nov 23:59'

# A refused batch is on record, and can do nothing.
# shellcheck disable=SC2086
does receive $without_accept --temperature 8.4 --refuse 'no ice in the box'
expect_out ': no ice in the box'
expect_out 'local law'
no=$(sed -n 's/^refused Cod as batch \([^:]*\):.*/\1/p' out)
does trace "$no"
expect_out 'refused'
expect_out 'no ice in the box'
expect_out '  refused, sent back               9.600 kg'
expect_out '  unexplained                           0 g'
refuses 3 "^pinbone: batch $no was refused at goods in: no ice in the box\$" \
    prep "$no" --by AK --fish 1 --weight 800 --make cod-side:2:300
refuses 3 "^pinbone: batch $no was refused: it gets no label\$" \
    label print "$no" --by AK
refuses 3 "^pinbone: batch $no has 0 g and 0 fish left to discard\$" \
    discard "$no" --by AK --reason x
does stock
expect_no_out "$no"
does --json plan 2026-11-27/dinner
expect_no_out "$no"

# As many lots as a day has codes: then a clear word, and the next day again.
n=0
while p receive --by AK --supplier gannet --document N-9 --species WHG \
    --presentation whole --weight 1kg --lot L --temperature 1 --area x \
    --method caught --accept && [ "$status" -eq 0 ]; do
	n=$((n + 1))
	[ $n -lt 120 ] || fail 'more codes in a day than there are'
done
expect_one_line_err
expect_err '^pinbone: .*(number|code|lots|batches)'
day=2026-11-27
take_in WHG whole - 1kg -

# Only live shellfish has the warmer limit: the word live must not let warm
# fish in.
with 2 '.*live' --species COD --presentation live --temperature 6
with 2 '.*fillet' --species MUS --presentation fillet

# Blanks are no initials, lot or reason.
with 2 '--by' --by ' '
with 2 '--document' --document ' '
with 2 '--lot' --lot ' '
with 2 '--area' --area '  '
# shellcheck disable=SC2086
refuses 2 '^pinbone: the note or reason' receive $without_accept --refuse ' '
