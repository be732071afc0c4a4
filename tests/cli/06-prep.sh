# A breakdown: every gram accounted for, every portion dated and coded.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen
take_in COD whole 4 3200 2026-11-29
cod=$batch
take_in MUS live - 3kg -
mus=$batch

# no STATUS REGEX OPTION... - a breakdown of the cod that is refused.
no()
{
	st=$1
	re=$2
	shift 2
	refuses "$st" "^pinbone: $re" prep "$cod" --by AK "$@"
}

no 2 '--weight is missing$' --fish 1 --make cod-side:2:272
no 2 "batch $cod is counted: say how many fish with --fish\$" --weight 800 \
    --make cod-side:2:272
no 3 "batch $cod has 4 fish left, not 5\$" --fish 5 --weight 3200 \
    --make cod-side:2:272
no 2 '--fish 0 is outside' --fish 0 --weight 800 --make cod-side:2:272
no 2 '--fish -1 is outside' --fish -1 --weight 800 --make cod-side:2:272
no 3 '801 g came out of 800 g that went in: weigh again$' --fish 1 \
    --weight 800 --make cod-side:2:301 --frames 400 --waste 100
no 3 '900 g came out of 800 g' --fish 1 --weight 800 --waste 900
no 2 'nothing came out: give --make, --trim, --frames or --waste$' \
    --fish 1 --weight 800
no 2 '--trim "0" is not above zero$' --fish 1 --weight 800 --trim 0
# 2 % of 3200 g, 64 g, may be scale and ice; a gram more is another batch.
no 3 "batch $cod has 3\\.200 kg left, less than was weighed in: check the" \
    --fish 4 --weight 3265 --make cod-side:8:1100
no 4 '.*no-such' --fish 1 --weight 800 --make no-such:2:272
no 4 '.*plaice-crumb' --fish 1 --weight 800 --make plaice-crumb:2:272
for bad in cod-side cod-side:2 cod-side:2:272:1:1; do
	no 2 '--make "cod-side": write DISH:PORTIONS:WEIGHT or' --fish 1 \
	    --weight 800 --make $bad
done
no 2 '--make portions 0 is outside' --fish 1 --weight 800 --make cod-side:0:272
no 2 '--make portions "two" is not' --fish 1 --weight 800 \
    --make cod-side:two:272
no 2 '--make portions "" is not' --fish 1 --weight 800 --make cod-side::272
no 2 '--make weight "" is not a weight' --fish 1 --weight 800 \
    --make cod-side:2:
no 2 '--make weight "2,72" is not a weight' --fish 1 --weight 800 \
    --make cod-side:2:2,72
no 2 '--make per label 3 is outside 1 to 2' --fish 1 --weight 800 \
    --make cod-side:2:272:3
no 2 '--make per label 0 is outside' --fish 1 --weight 800 \
    --make cod-side:2:272:0
no 2 '--make cod-side: 300 portions weigh 272 g in all: check the weight$' \
    --fish 1 --weight 800 --make cod-side:300:272
no 2 '--make "x{40}\.\.\." is too long' --fish 1 --weight 800 \
    --make "$(printf '%90s' | tr ' ' x):2:272"
no 2 '--note is [0-9]+ bytes long' --fish 1 --weight 800 \
    --make cod-side:2:272 --note "$(printf '%300s' | tr ' ' n)"
# One bad dish of two: nothing of the good one either.
no 4 '.*no-such' --fish 1 --weight 800 --make cod-side:1:136 --make no-such:1:9
set --
for n in 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17; do
	set -- "$@" --make cod-side:1:10
done
no 2 'more than 16 --make$' --fish 1 --weight 800 "$@"
refuses 2 '^pinbone: --by is missing' prep "$cod" --fish 1 --weight 800 \
    --make cod-side:2:272
refuses 2 "batch $mus was taken in by weight: leave --fish out" \
    prep "$mus" --by AK --fish 1 --weight 1kg --make mussel-toast:4:240

# Codes: a wrong check character, a slip of two digits, no such batch.
case $cod in
*A) other=C ;;
*) other=A ;;
esac
refuses 2 'the check character is wrong, read it again from the label$' \
    prep "${cod%?}$other" --by AK --fish 1 --weight 800 --waste 1
refuses 2 'is not a code: a batch looks like' prep 12 --by AK --weight 1 \
    --waste 1
refuses 2 'is not a code' prep '' --by AK --weight 1 --waste 1
refuses 4 "^pinbone: .*$(no_batch)" prep "$(no_batch)" --by AK --fish 1 \
    --weight 800 --waste 1

# --- one fish into two portions --------------------------------------------

does --json prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:2:273 \
    --trim 30 --frames 380 --waste 90 --note 'firm'
expect_out '"in_g": 800,'
expect_out '"unexplained_g": 27,'
expect_out '"batch_left_g": 2400,'
expect_out '"batch_left_fish": 3,'
expect_out '"caution": "",'
# 273 g in two: 136 and 137, never a gram made or lost.
expect_is "$(echo $(all weight_g))" '136 137'
# Raw: prepared today, day 1 of 2; earlier than supplier and batch.
expect_is "$(all use_by | sort -u)" 2026-11-27T23:59:59+00:00
portion=$(get code)
case $(all code | sed -n 2p) in
[0-9][0-9][0-9A-Z]-[0-9A-Z][0-9A-Z][0-9A-Z]) pass ;;
*) fail 'not a portion code' ;;
esac
portion=$(all code | head -n 1)
refuses 2 "is a portion's code: break down a batch" prep "$portion" --by AK \
    --weight 100 --waste 1

# --- trays: label by label, the grams sum up -------------------------------

# 7 portions of 1000 g, 3 to a label: 3, 3 and 1 servings.  Shared out by
# running total: 428, 857 - 428 = 429, 1000 - 857 = 143 g.
take_in COD whole 9 7200 -
big=$batch
does --json prep "$big" --by AK --fish 4 --weight 3200 \
    --make cod-side:7:1000:3 --frames 2kg --waste 200
expect_is "$(echo $(all servings))" '3 3 1'
expect_is "$(echo $(all weight_g))" '428 429 143'
expect_out '"unexplained_g": 0,'
for c in $(all code); do
	echo "$c"
done | sort | uniq -d >twice
[ ! -s twice ] || fail 'a code was given twice'
pass

# Two dishes of one batch; the caution names the portion outside the menu.
does prep "$big" --by AK --fish 1 --weight 800 --make cod-side:1:300 \
    --make cod-side:1:150 --waste 350 --yield-ok
expect_out 'all explained; 4 fish left
yield whole to skinless: 56.25 %, 33.17 % expected; set aside
look again: cod-side: a portion weighs 300 g, the menu says 100 to 200 g'

# --- use-by: the supplier's date and the house's life bind -----------------

take_in COD whole 2 1600 2026-11-26
does --json prep "$batch" --by AK --fish 1 --weight 800 --make cod-side:2:272
expect_is "$(all use_by | sort -u)" 2026-11-26T23:59:59+00:00
# Live shellfish, cooked today: its batch is good to 28 November, 3 days as a
# cooked portion are the same day.
does --json prep "$mus" --by AK --weight 1kg --make mussel-toast:4:240:4
expect_is "$(all use_by)" 2026-11-28T23:59:59+00:00
expect_out '"batch_left_g": 2000,'
day=2026-11-28
at=10:00
does --json prep "$mus" --by AK --weight 1kg --make mussel-toast:4:240:4
expect_is "$(all use_by)" 2026-11-28T23:59:59+00:00
does --json prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:2:272
expect_is "$(all use_by | sort -u)" 2026-11-29T23:59:59+00:00
day=2026-11-29
does --json prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:2:272
expect_is "$(all use_by | sort -u)" 2026-11-29T23:59:59+00:00

# --- held and expired batches stay closed ----------------------------------

does hold "$cod" --by AK --reason 'smells'
no 3 "batch $cod is on hold: it stays closed until released\$" --fish 1 \
    --weight 800 --make cod-side:2:272
does release "$cod" --by AK --reason 'fine'
refuses 3 "^pinbone: batch $mus expired on Sat 28 Nov 23:59: discard it\$" \
    prep "$mus" --by AK --weight 1kg --make mussel-toast:4:240

# --- the last fish closes the batch, whatever the scale says ---------------

does --json prep "$cod" --by AK --fish 1 --weight 780 --make cod-side:2:272 \
    --frames 508
expect_out '"batch_left_fish": 0,'
does stock
expect_no_out "$cod"
does trace "$cod"
expect_out '  still whole                           0 g'
no 3 "batch $cod has 0 fish left, not 1\$" --fish 1 --weight 20 --waste 20

# A batch by weight: 2 % over what is left is taken, and shown as overweight.
take_in MUS live - 1kg -
does --json prep "$batch" --by AK --weight 1020 --make mussel-toast:4:240:4 \
    --waste 780
does trace "$batch"
expect_out '  overweight (scale or ice)           -20 g'
does stock
expect_no_out "$batch"

# A slip at the scale: the whole batch's weight keyed for one of four fish.
# The other three are still there, so they stay in the stock list and can be
# broken down or thrown away; or the slip is refused.
take_in COD whole 4 3200 -
p prep "$batch" --by AK --fish 1 --weight 3200 --make cod-side:2:272 \
    --waste 2900
does stock
expect_out "$batch"
does prep "$batch" --by AK --fish 1 --weight 800 --make cod-side:2:272
does discard "$batch" --by AK --reason 'soft'
