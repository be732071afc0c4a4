# The tail of one batch and the head of the next on one board: what comes out
# is of both, dated by both, found from both.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen
cat >suppliers.csv <<'END'
code,name,address,approval,contact
skerry,Skerry Boats,"3 Mole, South Quay",XX 2002,the skipper
END
does import suppliers suppliers.csv
take_in COD whole 4 3200 2026-11-28
a=$batch
# A later batch of another supplier with a shorter date.
does --json receive --by AK --supplier skerry --document S-7 --species COD \
    --presentation whole --count 2 --weight 1600 --lot L-2 --temperature 1.0 \
    --area 27.7.d --method caught --supplier-date 2026-11-26 --accept
b=$(get code)
take_in COD fillet - 900 2026-11-28
fillet=$batch
take_in PLE whole 3 900 2026-11-28
plaice=$batch
take_in COD whole 2 1500 -
c=$batch
nobody=$(no_batch)

# expect_grams WHAT LOW HIGH - a line of the balance.
expect_grams()
{
	n=$(sed -n "s/^  $1 *\([0-9]*\) g\$/\1/p" out)
	[ -n "$n" ] && [ "$n" -ge "$2" ] && [ "$n" -le "$3" ] ||
	    fail "$1: expected $2 to $3 g, seen $n"
	pass
}

# --- refused, and nothing recorded -------------------------------------------

# no STATUS REGEX WITH... - a breakdown of the first batch with others.
no()
{
	st=$1
	re=$2
	shift 2
	for w in "$@"; do
		set -- "$@" --with "$w"
		shift
	done
	refuses "$st" "^pinbone: $re" prep "$a" --by AK --fish 1 --weight 800 \
	    --make cod-side:3:420 --frames 300 "$@"
}

no 2 "--with \"$b\": write BATCH:FISH:WEIGHT, or BATCH:WEIGHT" "$b"
no 2 "--with \"$b\": write BATCH:FISH:WEIGHT" "$b:1:800:2"
no 2 '--with fish "one" is not' "$b:one:800"
no 2 '--with weight "" is not' "$b:1:"
no 2 '--with weight "8OO" is not' "$b:1:8OO"
no 2 "batch $b is counted: say how many fish" "$b:800"
no 3 "batch $b has 2 fish left, not 3\$" "$b:3:1600"
no 3 "batch $b: 1 fish of 1600 g where 2 weigh" "$b:1:1600"
no 4 "batch $nobody is not in this station file\$" "$nobody:1:800"
no 3 "batch $a is in it already: give its fish and weight once\$" "$a:1:800"
no 3 "batch $b is in it already" "$b:1:800" "$b:1:800"
no 3 "batch $a is COD, whole and batch $plaice is PLE, whole: only the same" \
    "$plaice:1:300"
no 3 "batch $a is COD, whole and batch $fillet is COD, fillet: only the same" \
    "$fillet:400"
no 2 'more than 3 --with$' "$b:1:800" "$c:1:800" "$plaice:1:1" "$fillet:1:1"
# Two bad at the end of a good one: the good one is not taken either.
no 3 "batch $plaice is|batch $a is" "$b:1:800" "$plaice:1:300"
does hold "$b" --by AK --reason smell
no 3 "batch $b is on hold: it stays closed until released\$" "$b:1:800"
does release "$b" --by AK --reason fine
day=2026-11-27
no 3 "batch $b expired on Thu 26 Nov 23:59: discard it\$" "$b:1:800"
day=2026-11-26
# More out than went in of both.
refuses 3 '1\.601 kg came out of 1.600 kg that went in: weigh again$' prep "$a" \
    --by AK --fish 1 --weight 800 --with "$b:1:800" --frames 1601

# --- one breakdown of two ------------------------------------------------------

does --json prep "$a" --by AK --fish 1 --weight 800 --with "$b:1:800" \
    --make cod-side:4:545:2 --frames 900 --waste 100
expect_is "$(get in_g)" 1600
expect_is "$(get unexplained_g)" 55
one=$(all code | sed -n 1p)
two=$(all code | sed -n 2p)
# Filed under the first to expire.
expect_out "\"batch\": \"$b\""
expect_out "\"also\": \"$a\""
expect_out '"use_by": "2026-11-26T23:59:59'

# --- taken back: both are as they were, and done again -----------------------

does undo --by AK
expect_out "breakdown of batch $a + $b, 2 fish, 1.600 kg, 4 portions on 2 labels"
expect_out "2 fish, 1.600 kg are back in batches $a + $b, 2 labelled units are"
does hold "$b" --by XX --reason smell
refuses 3 "batch $b is on hold: nothing of it is struck out" undo --by AK --yes
does release "$b" --by XX --reason fine
does undo --by AK --yes --reason 'wrong board'
refuses 3 "portion $one was struck out" use "$one" --by LM
for x in "$a" "$b"; do
	does --json trace "$x"
	expect_is "$(get unexplained)" 0
	expect_is "$(get whole)" "$(get weight_g)"
	expect_out '"struck_breakdowns": ['
done
does --json trace "$b"
expect_is "$(get fish_left)" 2
does --json prep "$a" --by AK --fish 1 --weight 800 --with "$b:1:800" \
    --make cod-side:4:545:2 --frames 900 --waste 100
one=$(all code | sed -n 1p)
two=$(all code | sed -n 2p)

# Back: both batches with their suppliers, whose date binds, whose limits.
does trace "$one"
for text in "batches      $b + $a" \
    "BATCH $b  Cod (Gadus morhua), whole" \
    "BATCH $a  Cod (Gadus morhua), whole" \
    'supplier     Skerry Boats, 3 Mole, South Quay' \
    'supplier     Gannet Fish, 12 Slipway, North Quay' \
    'lot          L-1' 'lot          L-2' \
    "in           1 fish, 800 g of $a" "with         $b, 1.600 kg in all" \
    "because      $b: " "also         $a: supplier's date: 2026-11-28"; do
	expect_out "$text"
done
does --json trace "$two"
expect_out '"other_batches": ['
expect_is "$(get code)" "$two"

# Forward from each, the units and half of the grams each.
for x in "$a" "$b"; do
	does trace "$x"
	expect_out "$one"
	expect_out "$two"
	expect_out "mixed: $b + $a"
	expect_grams 'in portions' 272 273
	expect_grams frames 450 450
	expect_grams waste 50 50
	does --csv trace "$x"
	expect_out ",$b + $a,0"
done

# On hand, on the label, and no longer once either is on hold.
does label preview "$one" --png one.png
does hold "$a" --by AK --reason 'supplier rang'
refuses 3 "portion $one is on hold: do not serve it" use "$one" --by LM
does release "$a" --by AK --reason fine
does hold "$b" --by AK --reason 'the other rang'
refuses 3 "portion $one is on hold: do not serve it" use "$one" --by LM
refuses 3 "$two is on hold" label print "$two" --by AK
does release "$b" --by AK --reason fine

# A scan of either tells of the other.
does --json stock
expect_out "\"also\": \"$a\""

# --- a day sheet has it once ---------------------------------------------------

does prep "$a" --by AK --fish 1 --weight 800 --with "$b:1:800" \
    --with "$c:1:750" --make cod-side:6:800:6 --frames 1400 --waste 100
expect_out "with $b with $c: 2.350 kg in, 50 g unexplained"
expect_out 'mixed: every label names'
does ticket day
expect_out "with $b + $c"
expect_is "$(grep -c '2.350 kg' out)" 1
