# The chain: a portion back to its supplier, a batch on to its portions.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen
take_in COD whole 4 3200 2026-11-28 --gear 'Hooks and lines' \
    --caught 2026-11-24
cod=$batch
does label print "$cod" --by AK
does --json prep "$cod" --by AK --fish 2 --weight 1590 \
    --make cod-side:2:272 --make cod-side:3:410:3 --trim 40 --frames 700 \
    --waste 100
one=$(all code | sed -n 1p)
two=$(all code | sed -n 2p)
tray=$(all code | sed -n 3p)
does label print "$one" --by AK
at=13:00
does use "$one" --by LM --service 2026-11-27/dinner
does discard "$tray" --by LM --servings 1 --reason 'dropped'
does discard "$cod" --by AK --fish 1 --weight 800 --reason 'bruised'
does hold "$cod" --by AK --reason 'supplier rang'
at=13:30
does release "$cod" --by JM --reason 'another lot was meant'
does hold "$tray" --by AK --reason 'left out'

# --- back ------------------------------------------------------------------

does trace "$one"
for text in "PORTION $one  Cod with peas" 'amount       1 made, 136 g; 0 left' \
    'prepared     2026-11-26 09:00 by AK, breakdown 1' \
    'because      house life, raw portion: 2026-11-27' \
    "also         supplier's date: 2026-11-28 (the supplier's label)" \
    'used         2026-11-26 13:00 by LM: 1 for 2026-11-27/dinner' \
    'label        2026-11-26 09:00, use-by, sent, by AK' \
    "BATCH $cod  Cod (Gadus morhua), whole" \
    'supplier     Gannet Fish, 12 Slipway, North Quay' \
    'approval     XX 1001' 'contact      dispatch desk' \
    'document     N-1' 'lot          L-1' 'caught       2026-11-24' \
    'origin       caught, 27.7.e, Hooks and lines' \
    'held         2026-11-26 13:00 by AK: supplier rang' \
    'released     2026-11-26 13:30 by JM: another lot was meant'; do
	expect_out "$text"
done
expect_no_out "$two"

# --- forward, and every gram of it -----------------------------------------

does trace "$cod"
for c in $one $two $tray; do
	expect_out "$c  cod-side"
done
expect_out '3 made, 1 discarded, 2 left ON HOLD'
expect_out '1 made, 1 used'
does --json trace "$cod"
sed -n '/"balance_g"/,/}/p' out >balance
cat >expected <<'END'
  "balance_g": {
    "received": 3200,
    "returned": 0,
    "struck": 0,
    "portions": 682,
    "trim": 40,
    "frames": 700,
    "waste": 100,
    "discarded": 800,
    "whole": 810,
    "unexplained": 68
  },
END
diff expected balance >difference || { cat difference; fail 'balance'; }
pass
# The sum is what came in, to the gram.
expect_is "$(awk -F '[:,]' '/"/ && !/balance_g|received/ { n += $2 }
    END { print n }' balance)" 3200
# Portions of the labels make up the portions of the breakdown.
expect_is "$(sed -n '/^  "portions": \[/,$p' out |
    awk -F '[:,]' '/"weight_g"/ { n += $2 } END { print n }')" 682
if has python3; then
	python3 -m json.tool out >/dev/null || fail 'not JSON'
	pass
fi
does --csv trace "$cod"
expect_is "$(head -n 1 out | tr -d '\r')" \
    'code,batch,lot,supplier,document,species,dish,servings,used,discarded,missing,left,held,weight_g,use_by,keep,labels,batches,combined'
expect_out "$tray,$cod,L-1,Gannet Fish,N-1,COD,cod-side,3,0,1,0,2,yes,410,2026-11-27T23:59:59+00:00,chilled"
expect_out ',chilled,"use-by, sent"'

# --- codes as people key them ----------------------------------------------

plain=$(printf '%s' "$one" | tr -d -)
lower=$(printf '%s' "$one" | tr 'A-Z' 'a-z')
oh=$(printf '%s' "$plain" | sed 's/^0/O/')
for c in "$plain" "$lower" " $one " "$oh"; do
	does trace "$c"
	expect_out "PORTION $one"
done
does trace "$(printf '%s' "$cod" | tr -d -)"
expect_out "BATCH $cod"
refuses 4 "$(no_portion)" trace "$(no_portion)"
refuses 4 "$(no_batch)" trace "$(no_batch)"
for n in 1 2 3 4 5 6; do
	# One character wrong at each place; never taken for another portion.
	was=$(printf '%s' "$plain" | cut -c $n)
	case $was in
	7) now=8 ;;
	*) now=7 ;;
	esac
	c=$(printf '%s' "$plain" | sed "s/./$now/$n")
	refuses 2 "code \"$c\": the check character is wrong" trace "$c"
done
refuses 2 'is not a code: a batch looks like 26330-09C' trace 7
refuses 2 'is not a code' trace ''
refuses 2 'is not a code' trace "$(printf '%3000s' | tr ' ' 1)"
refuses 2 "'\\?' cannot stand at place|is not a code" trace '00?-01U'
refuses 2 "'B' cannot stand at place 3" trace 00B-01U

# --- what a scanner types --------------------------------------------------

# include/core/label_code.h: 91, version 1, portion (or six zeros), batch,
# use-by YYMMDDHHMM, and a check over the 25 before it.
gs=$(printf '\035')
body=1$plain$(printf '%s' "$cod" | tr -d -)2611272359
scan=91$body$(check_of "$body")
for s in "$scan" "]d2$scan" "]C1$scan" "$gs$scan" "]d2$gs$scan" "$scan$gs" \
    "(91)${scan#91}" "[91]${scan#91}"; do
	does trace "$s"
	expect_out "PORTION $one"
done
body=1000000$(printf '%s' "$cod" | tr -d -)2611282359
batch_scan=91$body$(check_of "$body")
does trace "]d2$batch_scan"
expect_out "BATCH $cod"
expect_no_out "PORTION $one"
# Used for real, not only looked at.
body=1$(printf '%s' "$two" | tr -d -)$(printf '%s' "$cod" | tr -d -)2611272359
does use "]d2${gs}91$body$(check_of "$body")" --by LM
expect_out "used $two"

refuses 2 'holds 25 characters, not 26' trace "${scan%?}"
refuses 2 'holds 27 characters, not 26' trace "${scan}X"
refuses 2 'the label was read wrong' trace "${scan%?}*"
body=2${scan#911}
body=${body%?}
refuses 2 "label version '2' is not known here" \
    trace "91$body$(check_of "$body")"
body=1$plain$(printf '%s' "$cod" | tr -d -)2613322359
refuses 2 "the label's use-by is not a date" trace "91$body$(check_of "$body")"
# A good frame around a portion code that is not good.
body=1000002$(printf '%s' "$cod" | tr -d -)2611272359
refuses 2 'the label was read wrong' trace "91$body$(check_of "$body")"
# Two labels scanned in one go.
refuses 2 'characters, not 26' trace "$scan$scan"
