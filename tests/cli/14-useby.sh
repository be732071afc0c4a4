# The use-by engine from outside: published examples by text and JSON, refusals
# that name their rule, input that cannot be, dishes served raw with their
# freeze record, and a house that may only tighten.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
settings

# u ARGS... - useby without a station file; u_does, u_refuses as in kitchen.sh.
u()
{
	run --config station.ini "$@"
}

u_does()
{
	u "$@"
	expect_no_err
	expect_status 0
}

u_refuses()
{
	want=$1
	says=$2
	shift 2
	u "$@"
	expect_status "$want"
	expect_one_line_err
	expect_err "$says"
	[ ! -s out ] || fail 'expected no output with an error'
}

# dated DATE-AND-TIME LIMIT ARGS... - that date, because of that limit.
dated()
{
	want=$1
	limit=$2
	shift 2
	u_does useby --no-house "$@"
	expect_out "use by $want (rule set "
	expect_out "  because $want  $limit"
	u_does --json useby --no-house "$@"
	expect_out "\"bound_by\": \"$limit\","
	case $(get use_by) in
	"${want% *}T${want#* }:"*) pass ;;
	*) fail "expected $want in the JSON, seen $(get use_by)" ;;
	esac
}

# --- published examples ----------------------------------------------------

# Southern Nevada Health District: prepared 1 April, 7 days, last day 7 April.
dated '2026-04-07 23:59' 'legal maximum, cooked' \
    --rules us-food-code --state cooked --prepared 2026-04-01
# The same: made 1 June, used in another dish on 3 June, last day 7 June.
dated '2026-06-07 23:59' 'earliest ingredient' \
    --rules us-food-code --state cooked --prepared 2026-06-03 \
    --ingredient-date 2026-06-20 --ingredient-date 2026-06-07
# Minnesota 4626.0400, 2024: the maker's date wins.
dated '2026-04-05 23:59' "supplier's date" --rules us-food-code \
    --state cooked --prepared 2026-04-01 --supplier-date 2026-04-05
# Food Code 3-501.17 over the night clocks go back: days, not hours.
dated '2026-10-30 23:59' 'legal maximum, cooked' \
    --rules us-food-code --state cooked --prepared 2026-10-24
# North Carolina: 1 and 2 October used, thawed on the 10th, last day 14 October
# where the day of freezing does not count; 13 October where it does.
freeze='--rules us-food-code --state thawed --prepared 2026-10-01
    --frozen 2026-10-03 --thawed 2026-10-10'
# shellcheck disable=SC2086
dated '2026-10-13 23:59' 'days left when frozen, after thawing' $freeze
settings 'freezing_day_counts = no'
# shellcheck disable=SC2086
dated '2026-10-14 23:59' 'days left when frozen, after thawing' $freeze
settings
# Minnesota Dairy & Food Inspection: frozen without a mark, 24 hours; elapsed
# ones, over the night clocks go back.
dated '2026-10-25 11:00' 'frozen without a mark, after thawing' \
    --rules us-food-code --state thawed --frozen 2026-10-01 \
    --thawed 2026-10-24T12:00
# FSA guidance of 2017: 10 days in a pack; that packing is day 1 is our own.
dated '2026-05-10 23:59' 'legal maximum, reduced-oxygen pack' \
    --rules england --state vacuum --prepared 2026-05-01

# --- one answer whole ------------------------------------------------------

u_does --json useby --rules us-food-code --state cooked \
    --prepared 2026-04-01T15:00 --no-house
digest=$(get rule_set_digest)
expect_is "${#digest}" 64
sed "s/$digest/DIGEST/" out >whole && mv whole out
expect_out_is <<'END'
{
  "use_by": "2026-04-07T23:59:59+01:00",
  "bound_by": "legal maximum, cooked",
  "limits": [
    {
      "limit": "legal maximum, cooked",
      "use_by": "2026-04-07T23:59:59+01:00",
      "source": "US FDA Food Code, 3-501.17(A), (B): day of preparation is day 1",
      "verified": true
    }
  ],
  "cautions": [],
  "rule_set": "us-food-code",
  "rule_set_digest": "DIGEST"
}
END
u_does useby --rules us-food-code --state cooked \
    --prepared 2026-04-01T15:00 --no-house
expect_out_is <<'END'
use by 2026-04-07 23:59 (rule set us-food-code)
  because 2026-04-07 23:59  legal maximum, cooked
          US FDA Food Code, 3-501.17(A), (B): day of preparation is day 1
Figures are guidance; local law and the kitchen's own food safety plan rule,
and a person decides.
END

# The house life is in unless it is left out: 3 days of the settings.
u_does useby --rules us-food-code --state cooked --prepared 2026-04-01
expect_out 'use by 2026-04-03 23:59 (rule set us-food-code)'
expect_out '  also    2026-04-07 23:59  legal maximum, cooked'
# Strict is what the settings say when no set is named.
u_does --json useby --state cooked --prepared 2026-04-01
expect_is "$(get rule_set)" strict
[ "$(get rule_set_digest)" != "$digest" ] || fail 'two sets, one digest'
pass
# A figure that was not read is shown as such.
u_does useby --rules us-food-code --state raw --species MAC --storage-c 4.5 \
    --prepared 2026-04-01T10:00 --no-house
expect_out 'because 2026-04-01 13:00  time above the limit, histamine'
expect_out ' (unverified)'
expect_out 'caution: this species can form histamine'
u_does --json useby --rules us-food-code --state raw --species MAC \
    --storage-c 4.5 --prepared 2026-04-01T10:00 --no-house
expect_out '"verified": false'

# --- refusals: status 3, the rule named ------------------------------------

u_refuses 3 'served raw needs -20\.0 C or colder for 168 h .*3-402\.11' \
    useby --state served-raw --species COD --prepared 2026-11-26
raw='--state served-raw --species COD --no-house --supplier-date 2026-11-27
    --frozen 2026-11-01T08:00 --freeze-c -20 --prepared 2026-11-08T09:00'
# shellcheck disable=SC2086
u_refuses 3 '3-402\.11' useby --rules us-food-code $raw \
    --thawed 2026-11-08T07:00
# shellcheck disable=SC2086
u_does useby --rules us-food-code $raw --thawed 2026-11-08T08:00
expect_out 'caution: parasite freezing on record meets the rule set'
# 24 h do for the EU and England, not for the US Food Code or the strictest.
for set in eu england; do
	# shellcheck disable=SC2086
	u_does useby --rules $set $raw --thawed 2026-11-02T08:00
done
for set in us-food-code strict; do
	# shellcheck disable=SC2086
	u_refuses 3 '168 h on record' useby --rules $set $raw \
	    --thawed 2026-11-02T08:00
done
# -35 C for 15 h does for all.
for set in eu england us-food-code strict; do
	u_does useby --rules $set --state served-raw --species COD \
	    --supplier-date 2026-11-20 --frozen 2026-11-07T16:00 \
	    --thawed 2026-11-08T07:00 --freeze-c -35 \
	    --prepared 2026-11-08T09:00
done
# Exemptions are named.
u_does useby --rules us-food-code --state served-raw --species YFT \
    --prepared 2026-11-08
expect_out 'caution: exempt from parasite freezing by species'
u_refuses 3 'or an exemption' useby --rules eu --state served-raw \
    --species YFT --prepared 2026-11-08
u_does useby --state served-raw --species SAL --farmed --prepared 2026-11-08
expect_out 'farmed, with the supplier'
u_refuses 3 'or an exemption' useby --state served-raw --species SAL \
    --prepared 2026-11-08
u_refuses 3 '3-502\.12\(C\)' useby --state vacuum --prepared 2026-05-01
u_refuses 3 'kept at 5\.1 C, above 5\.0 C \(US FDA Food Code, 3-501\.16' \
    useby --state cooked --prepared 2026-04-01 --storage-c 5.1
u_refuses 3 'all 7 days were used before it was frozen' useby \
    --state thawed --prepared 2026-10-01 --frozen 2026-10-07 \
    --thawed 2026-10-10
u_refuses 3 'an ingredient.s use-by, 2026-06-02, had passed' useby \
    --state cooked --prepared 2026-06-03 --ingredient-date 2026-06-02
u_refuses 3 'no limit is known' useby --rules eu --state raw \
    --received 2026-06-03 --no-house
u_refuses 3 'out of date before it was prepared' useby --state raw \
    --received 2026-06-01 --prepared 2026-06-08T09:00 \
    --supplier-date 2026-06-07

# --- input that cannot be: status 2, one line ------------------------------

u_refuses 2 '--state is missing' useby
u_refuses 2 'state "boiled" is not known: raw, served-raw' useby \
    --state boiled --prepared 2026-04-01
cooked='useby --state cooked --prepared'
for bad in 2026-02-29 2026-13-01 2026-04-31 26-04-01 1/4/2026 today 1999-12-31 \
    '' 2026-04-01T24:00 2026-04-01T9:00 2026-04-01T09:60 2026-04-01X; do
	# shellcheck disable=SC2086
	u_refuses 2 '--prepared' $cooked "$bad"
done
for option in received caught supplier-date ingredient-date; do
	u_refuses 2 "--$option" useby --state cooked --prepared 2026-04-01 \
	    --$option 2026-02-30
done
for option in frozen thawed; do
	u_refuses 2 "--$option" useby --state cooked --prepared 2026-04-01 \
	    --$option 2026-02-30T10:00
done
for degrees in 38 38F '100 F' 40.0 61 four 4.25 '' --4 4C5; do
	u_refuses 2 '--storage-c' $cooked 2026-04-01 "--storage-c=$degrees"
done
u_refuses 2 'Fahrenheit' $cooked 2026-04-01 --storage-c 38
u_refuses 2 'Fahrenheit' $cooked 2026-04-01 --storage-c 41F
u_refuses 2 'Fahrenheit' useby --state served-raw --prepared 2026-04-01 \
    --freeze-c -4F
u_does $cooked 2026-04-01 --storage-c '4,5 C'
u_refuses 2 'thawed before frozen' useby --state thawed \
    --frozen 2026-10-10 --thawed 2026-10-03
u_refuses 2 'needs to know when' useby --state thawed --thawed 2026-10-03
u_refuses 2 'received before caught' useby --state raw \
    --received 2026-10-03 --caught 2026-10-04
u_refuses 2 'prepared before caught' useby --state cooked \
    --prepared 2026-10-03 --caught 2026-10-04
u_refuses 2 'prepared' useby --state thawed --frozen 2026-10-01 \
    --prepared 2026-10-03 --thawed 2026-10-05
u_refuses 2 'nothing to count from' useby --state cooked
u_refuses 4 'no species "XQZ"' useby --state raw --species XQZ \
    --received 2026-10-03
u_refuses 4 'no rule set "scotland" .*england' $cooked 2026-04-01 \
    --rules scotland
u_refuses 2 'no name of a rule set' $cooked 2026-04-01 --rules ../rules/eu
u_refuses 64 '--no-home' useby --no-home
u_refuses 64 'operand' $cooked 2026-04-01 cod
set -- useby --state cooked --prepared 2026-04-01
for n in 01 02 03 04 05 06 07 08 09 10 11 12 13 14 15 16; do
	set -- "$@" --ingredient-date "2026-05-$n"
done
u_does "$@"
u_refuses 2 'more than 16 --ingredient-date' "$@" --ingredient-date 2026-05-17

# No station file was needed, and none was made.
expect_no_file pinbone.db
[ -z "$(find . -name '*.db*')" ] || fail 'a station file was made'
pass

# --- a house may tighten ---------------------------------------------------

printf '[cooked days]\nvalue = 4\nsource = our plan\n' >house.ini
settings 'house_file = house.ini'
u_does useby --no-house --rules us-food-code --state cooked \
    --prepared 2026-04-01
expect_out 'use by 2026-04-04 23:59'
expect_out 'our plan'
# And loosen nothing: nothing starts, both figures named.
printf '[chill max c]\nvalue = 8\n' >house.ini
both='chill max c.*8\.0 C would loosen 5\.0 C of rule set strict'
u_refuses 3 "$both" $cooked 2026-04-01
u_refuses 3 "$both" --db k.db init
expect_no_file k.db
printf '[life COD]\nraw_days = 3\n' >house.ini
u_refuses 3 'life cod. raw_days = 3 would loosen the general 2 days' \
    $cooked 2026-04-01
printf '[life COD]\nraw_days = 1\n' >house.ini
u_does useby --state raw --species COD --prepared 2026-04-01
expect_out 'use by 2026-04-01 23:59'
u_does useby --state raw --species HAD --prepared 2026-04-01
expect_out 'use by 2026-04-02 23:59'
# A life of a species there is none of would protect nobody.
printf '[life CDO]\nraw_days = 1\n' >house.ini
u_refuses 2 'CDO|cdo' $cooked 2026-04-01
# A comment behind a value is no part of it, nor silently lost.
printf '[cooked days]\nvalue = 3 ; was 4\n' >house.ini
u_refuses 2 'house\.ini:2' $cooked 2026-04-01
settings 'house_file = gone.ini'
u_refuses 4 'gone\.ini' $cooked 2026-04-01
# The settings themselves.
settings 'set = us-food-code' 'vacuum_days = 11'
u_does $cooked 2026-04-01
settings 'set = england' 'vacuum_days = 11'
u_refuses 3 'vacuum_days = 11 would loosen 10 days \(rule set england' \
    $cooked 2026-04-01
settings 'refuse_above_c = 5.1'
u_refuses 3 'refuse_above_c = 5\.1 C would loosen 5\.0 C' $cooked 2026-04-01
settings 'live_refuse_above_c = 7.1'
u_refuses 3 'live_refuse_above_c = 7\.1 C would loosen 7\.0 C' \
    $cooked 2026-04-01
settings 'raw_days = 8'
u_refuses 2 'raw_days = 8' $cooked 2026-04-01
settings 'set = scotland'
u_refuses 4 'no rule set "scotland"' $cooked 2026-04-01

# --- a dish served raw -----------------------------------------------------

kitchen
cat >m2.csv <<'END'
dish,name,state,species,cut,skin,bought,low,target,high,mix,allergens
cod-crudo,Cod crudo,served-raw,COD,fillet,off,whole,50,60,80,dinner:10,
salmon-crudo,Salmon crudo,served-raw,SAL,fillet,off,whole,50,60,80,dinner:9,
oyster,Oysters,served-raw,OYG,shell,on,live,50,80,120,dinner:5,
END
does import menu m2.csv
take_in COD whole 4 8kg -

# crudo ARGS... - one fish of the batch into four raw portions.
crudo()
{
	set -- --json prep "$batch" --by AK --fish 1 --weight 2kg \
	    --make "${dish:-cod-crudo}:4:240" --trim 400 --frames 1kg "$@"
	if [ "$want" = 0 ]; then
		does "$@"
	else
		refuses "$want" "$says" "$@"
	fi
}

want=3
says='cod-crudo: served raw needs -20\.0 C or colder for 168 h on record'
crudo
# An hour short, a degree warm.
crudo --frozen 2026-11-19T08:00 --thawed 2026-11-26T07:00 --freeze-c -20
crudo --frozen 2026-11-19T08:00 --thawed 2026-11-26T08:00 --freeze-c -19
# A statement on feed frees no wild fish.
crudo --feed-statement FS-9
want=2
says='"20" freezes nothing'
crudo --frozen 2026-11-19T08:00 --thawed 2026-11-26T08:00 --freeze-c 20
says='a freeze record needs --frozen, --thawed and --freeze-c'
crudo --frozen 2026-11-19T08:00
crudo --thawed 2026-11-26T08:00
crudo --freeze-c -20
crudo --frozen 2026-11-19T08:00 --thawed 2026-11-26T08:00
says='--thawed 2026-11-26T09:01 is in the future'
crudo --frozen 2026-11-19T08:00 --thawed 2026-11-26T09:01 --freeze-c -20
says='thawed before frozen'
crudo --frozen 2026-11-26T08:00 --thawed 2026-11-19T08:00 --freeze-c -20
says='--freeze-c .*Fahrenheit'
crudo --frozen 2026-11-19T08:00 --thawed 2026-11-26T08:00 --freeze-c -4F
says='--frozen'
crudo --frozen 2026-11-31 --thawed 2026-11-26T08:00 --freeze-c -20
# Thawed yesterday, and the house keeps thawed food for a day: not made today
# with a date that has passed.
want=3
says='out of date before it was prepared'
crudo --frozen 2026-11-18T08:00 --thawed 2026-11-25T08:00 --freeze-c -20

want=0
crudo --frozen 2026-11-19T08:00 --thawed 2026-11-26T08:00 --freeze-c -20
first=$(all code | head -n 1)
expect_is "$(all use_by | sort -u)" 2026-11-26T23:59:59+00:00
# The record, the rule set and its digest stay with the portion.
does --json trace "$first"
expect_out '"rule_set": "strict",'
expect_out '"history": {
        "frozen": "2026-11-19T08:00:00+00:00",
        "thawed": "2026-11-26T08:00:00+00:00",
        "freeze_tenths_c": -200
      }'
expect_out '"parasite freezing on record meets the rule set"'
stored=$(get rule_set_digest)
does --json useby --state cooked --prepared 2026-11-26
expect_is "$(get rule_set_digest)" "$stored"
does trace "$first"
expect_out 'legal maximum, served raw'
# The text says it too, to the inspector who asks for it.
expect_out 'strict'
expect_out '2026-11-19'
# It stays so when the rules change.
settings 'set = england'
does --json trace "$first"
expect_is "$(get rule_set)" strict
expect_is "$(get rule_set_digest)" "$stored"
# England's 24 h do now, for the next fish.
crudo --frozen 2026-11-25T08:00 --thawed 2026-11-26T08:00 --freeze-c -20
does --json trace "$(all code | head -n 1)"
expect_is "$(get rule_set)" england
settings

# Farmed fish with the supplier's statement; the statement is kept.
dish=salmon-crudo
does --json receive --by AK --supplier gannet --document N-3 --species SAL \
    --presentation whole --count 4 --weight 8kg --lot L-3 --temperature 1.5 \
    --area NO --method farmed --accept
batch=$(get code)
want=3
says='salmon-crudo: served raw needs'
crudo
want=0
crudo --feed-statement 'FS-9 of 3 March'
does --json trace "$(all code | head -n 1)"
expect_out '"feed_statement": "FS-9 of 3 March"'
expect_out 'exempt from parasite freezing: farmed'

# Shellfish needs no record; the risk is told.
take_in OYG live - 2kg -
does --json prep "$batch" --by AK --weight 1kg --make oyster:4:320
does --json trace "$(all code | head -n 1)"
expect_out 'exempt from parasite freezing: shellfish of this kind'
expect_out 'raw bivalves carry their own risk'
