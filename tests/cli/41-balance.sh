# Every gram accounted for, and what each law asks of a delivery.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen 'address = 4 Slip Lane, North Quay'
take_in COD whole 4 3200 2026-11-28 --gear 'Hooks and lines' \
    --caught 2026-11-24
cod=$batch
does --json prep "$cod" --by AK --fish 2 --weight 1590 \
    --make cod-side:2:272 --make cod-side:3:410:3 --trim 40 --frames 700 \
    --waste 100
one=$(all code | sed -n 1p)
tray=$(all code | sed -n 3p)
at=13:00
does use "$one" --by LM --service 2026-11-27/dinner
does discard "$tray" --by LM --servings 1 --reason 'dropped'
does discard "$cod" --by AK --fish 1 --weight 800 --reason 'bruised'

# --- a batch, a day, a supplier --------------------------------------------

# 3200 = 800 + 810 + (136 + 273) + 136 + 137 + 40 + 700 + 100 + 68
does balance "$one"
expect_out "BATCH $cod  Cod, gannet
  in                                 3.200 kg
  discarded unopened                    800 g
  still whole                           810 g
  in portions, on hand                  409 g
  in portions, served                   136 g
  in portions, discarded                137 g
  trim kept                              40 g
  frames                                700 g
  waste                                 100 g
  UNEXPLAINED                            68 g"
for what in "$cod" 2026-11-26; do
	does --json balance "$what"
	sed -n '/"total"/,/}/p' out >total
	sum=$(awk -F'[:,]' '/_|"(frozen|missing|returned|struck|whole|trim)"|"(frames|waste|used)"|"unexplained"/ { n += $2 } END { print n }' total)
	expect_is "$sum" 3200 "of $what"
done
does --json balance --supplier gannet --from 2026-11-26
expect_out '"code": "'"$cod"'"'
does balance --supplier gannet --to 2026-11-25
expect_out 'no batch came in'
p --csv balance "$cod"
[ "$(wc -l <out)" = 3 ] || fail 'a header, a batch and a breakdown'
pass

# --- explained -------------------------------------------------------------

does balance --unexplained
expect_out '68 g of 1590 g'
does balance explain 1 --reason 'drip on the board' --by AK
does balance --unexplained
expect_out 'nothing: every gram has its place'
does balance "$cod"
expect_out 'because: drip on the board'
refuses 3 'explained already: drip on the board' \
    balance explain 1 --reason more --by AK
refuses 4 'breakdown 9 is not in this station file' \
    balance explain 9 --reason more --by AK
refuses 2 'balance takes a code' balance
refuses 2 'balance takes a code' balance "$cod" --unexplained
refuses 2 'after --to' balance --supplier gannet --from 2026-12-01 \
    --to 2026-11-01
# It is undone: the figure is another one, and the line is open again.
at=13:30
does undo --by AK
does undo --by LM
does balance "$cod"
expect_out 'explained by a person'

# --- papers ----------------------------------------------------------------

does papers N-1
expect_out 'Reg. (EU) 931/2011 Art. 3(1): INCOMPLETE, 1 missing'
expect_out 'e    there       name and address of who it was dispatched to: Harbour Kitchen, 4 Slip Lane, North Quay'
expect_out "ask the supplier, then: pinbone papers say $cod dispatched TEXT"
does papers say "$cod" dispatched 2026-11-25 --by AK
does papers say "$cod" frozen never --by AK
does papers 2026-11-26
expect_out 'Reg. (EU) 931/2011 Art. 3(1): complete'
expect_out 'Reg. (EU) 1379/2013 Art. 35(1): complete'
expect_out '21 CFR 1.1345(a): INCOMPLETE, 2 missing'
does --json papers say "$cod" lot-source 'the supplier' --by AK
does papers say "$cod" document-type invoice --by AK
does papers "$tray"
expect_out '21 CFR 1.1345(a): complete'
expect_out 'type and number of the document: invoice N-1'
does --json papers "$cod"
expect_out '"state": "missing"'
expect_out '"datum": "vessel"'
refuses 2 'recorded already' papers say "$cod" caught 2026-11-23 --by AK
refuses 2 'cannot be said later' papers say "$cod" weight 3kg --by AK
refuses 4 'no code, date or delivery document' papers N-9
settings 'set = us-food-code' 'address = 4 Slip Lane, North Quay'
does papers "$cod"
expect_no_out '931/2011'
does papers --all "$cod"
expect_out '931/2011'
