# Used, discarded, on hold: what becomes of stock.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen
take_in COD whole 4 3200 2026-11-28
cod=$batch
does --json prep "$cod" --by AK --fish 1 --weight 800 \
    --make cod-side:2:272:2 --waste 500
old=$(get code)
at=11:00
does --json prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:2:272
one=$(all code | sed -n 1p)
two=$(all code | sed -n 2p)

# --- use -------------------------------------------------------------------

refuses 2 '^pinbone: --by is missing: every record needs the initials' \
    use "$old"
refuses 2 "$cod is a batch's code: scan a portion or tray" use "$cod" --by LM
refuses 4 "$(no_portion)" use "$(no_portion)" --by LM
refuses 2 'check character' use 000-01A --by LM
refuses 2 '--servings 0 is outside' use "$old" --by LM --servings 0
refuses 2 '--servings "all" is not' use "$old" --by LM --servings all
refuses 3 "portion $old has 2 left, not 3\$" use "$old" --by LM --servings 3
refuses 2 'is not a service' use "$old" --by LM --service dinner
refuses 4 2026-12-24 use "$old" --by LM --service 2026-12-24/dinner
refuses 2 '--reason is empty' use "$old" --by LM --reason ''
# The older tray first, by name; with a reason it is on record.
refuses 3 "use $old first: same dish, use by Fri 27 Nov 23:59 \\(or say why" \
    use "$one" --by LM
does use "$one" --by LM --reason 'the older tray is for the staff'
expect_out "used $one, Cod with peas: 0 left"
does trace "$one"
expect_out '(the older tray is for the staff)'
does log
expect_out 'the older tray is for the staff'
refuses 3 "portion $one is used up already\$" use "$one" --by LM
does --json use "$old" --by LM --servings 1 --service 2026-11-27/dinner
expect_out_is <<END
{
  "code": "$old",
  "dish": "cod-side",
  "left": 1
}
END
does trace "$old"
expect_out ': 1 for 2026-11-27/dinner'
does use "$old" --by LM
refuses 3 "portion $old is used up already\$" use "$old" --by LM
does use "$two" --by LM --servings 1

# --- on hold ---------------------------------------------------------------

at=12:00
does --json prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:2:272 \
    --make cod-side:2:200:2 --yield-ok
one=$(all code | sed -n 1p)
two=$(all code | sed -n 2p)
tray=$(all code | sed -n 3p)
refuses 2 '--reason is missing$' hold "$one" --by AK
refuses 2 '--reason is empty$' hold "$one" --by AK --reason ''
refuses 2 '^pinbone: --by is missing' hold "$one" --reason x
refuses 4 "$(no_portion)" hold "$(no_portion)" --by AK --reason x
refuses 4 "$(no_batch)" hold "$(no_batch)" --by AK --reason x
refuses 3 "$one: " release "$one" --by AK --reason x
does hold "$one" --by AK --reason 'cut finger'
refuses 3 "$one: " hold "$one" --by AK --reason again
refuses 3 "portion $one is on hold: do not serve it\$" use "$one" --by LM \
    --reason 'it looks fine'
# The one on hold does not stand in the way of the next.
does use "$two" --by LM
does --json stock
expect_out '"state": "held"'
does release "$one" --by AK --reason 'washed and checked'
does hold "$cod" --by AK --reason 'guest unwell'
for c in $one $tray; do
	refuses 3 "portion $c is on hold: do not serve it\$" use "$c" --by LM
done
# The batch's hold is not the portion's: releasing that one does not help.
refuses 3 "$one: " release "$one" --by AK --reason x
does release "$cod" --by AK --reason 'it was the wine'
does use "$one" --by LM

# --- discard ---------------------------------------------------------------

refuses 2 '^pinbone: --by is missing' discard "$tray" --reason x
refuses 2 '--reason is missing$' discard "$tray" --by AK
refuses 2 '--reason is empty$' discard "$tray" --by AK --reason ''
refuses 3 "portion $tray has 2 left, not 3\$" discard "$tray" --by AK \
    --reason x --servings 3
refuses 2 'a portion is discarded by --servings, not by weight' \
    discard "$tray" --by AK --reason x --weight 100
refuses 2 'a batch is discarded by --fish and --weight, not by servings' \
    discard "$cod" --by AK --reason x --servings 1
refuses 2 "batch $cod: give --weight too, or neither for all of it" \
    discard "$cod" --by AK --reason x --fish 1
refuses 2 "batch $cod: give --fish too, or neither" \
    discard "$cod" --by AK --reason x --weight 800
refuses 3 "batch $cod has 800 g and 1 fish left to discard\$" \
    discard "$cod" --by AK --reason x --fish 2 --weight 800
refuses 3 "batch $cod has 800 g and 1 fish left" \
    discard "$cod" --by AK --reason x --fish 1 --weight 801
refuses 2 'reason is 200 bytes long' discard "$cod" --by AK \
    --reason "$(printf '%200s' | tr ' ' r)"
does --json discard "$tray" --by AK --reason 'dropped' --servings 1
expect_out_is <<END
{
  "code": "$tray",
  "servings": 1,
  "left": 1
}
END
does discard "$tray" --by AK --reason 'dropped too'
expect_out "discarded 1 of $tray: 0 left"
refuses 3 "portion $tray has 0 left" discard "$tray" --by AK --reason x
does --json discard "$cod" --by AK --reason 'soft'
expect_out_is <<END
{
  "code": "$cod",
  "fish": 1,
  "weight_g": 800,
  "left_g": 0
}
END
refuses 3 "batch $cod has 0 g and 0 fish left to discard\$" \
    discard "$cod" --by AK --reason x
does stock
expect_no_out "$cod"
# A part of one; a batch on hold can be thrown away, and nothing else.
take_in PLE whole 5 3kg -
ple=$batch
does hold "$ple" --by AK --reason 'smells'
does discard "$ple" --by AK --reason 'smells' --fish 2 --weight 1200
expect_out "discarded 1200 g of $ple: 1800 g left"

# --- out of date -----------------------------------------------------------

take_in COD whole 1 800 2026-11-29
late=$batch
does --json prep "$late" --by AK --fish 1 --weight 800 --make cod-side:2:272:2 \
    --waste 500
gone=$(get code)
day=2026-11-27
at=23:59
does --json stock
expect_no_out '"state": "expired"'
day=2026-11-28
at=00:00
does --json stock
expect_out '"state": "expired"'
refuses 3 "portion $gone expired on Fri 27 Nov 23:59: discard it\$" \
    use "$gone" --by LM
refuses 3 "portion $gone expired on" use "$gone" --by LM --reason 'looks fine'
does discard "$gone" --by LM --reason 'out of date'

# --- stock: first to expire first ------------------------------------------

take_in COD whole 1 800 2026-11-28
first=$batch
take_in COD whole 1 800 -
last=$batch
does --json prep "$last" --by AK --fish 1 --weight 500 --make cod-side:1:136 \
    --waste 300
take_in HAD whole 1 800 2026-11-30
does --json stock
all use_by >dates
sort dates | cmp -s - dates || fail 'stock is not in order of use-by'
pass
# The dates are in order whatever the order they came in.
expect_is "$(get code)" "$first"
expect_is "$(all code | wc -l)" "$(wc -l <dates)"
does --csv stock
expect_is "$(head -n 1 out | tr -d '\r')" \
    'kind,code,batch,state,use_by,name,species,count,weight_g,keep,also'
p stock today
expect_status 64
expect_one_line_err

# A scan is answered with the code, not with what the scanner sent; as JSON
# when asked.
take_in COD whole 2 1600 -
does --json prep "$batch" --by AK --fish 1 --weight 800 --make cod-side:2:272
one=$(all code | sed -n 1p)
body=1$(printf '%s' "$one$batch" | tr -d -)2611292359
does hold "]d2$(printf '\035')91$body$(check_of "$body")" --by AK --reason x
expect_out "$one: on hold"
does --json release "$one" --by AK --reason x
expect_is "$(get code)" "$one"

# Blanks are no reason.
refuses 2 '--reason' hold "$one" --by AK --reason ' '
refuses 2 '--reason' discard "$one" --by AK --reason ' '
