# The plan cut by cut: prices, grades, weighed fish, the chef's word, the board.
# All arithmetic by hand; the hake gives 48 % by the kitchen's own figure.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen

menu='dish,name,state,species,cut,skin,bought,low,target,high,mix,yield,price,finish,pieces'
cat >m.csv <<END
$menu
large,Hake,raw,HKE,supreme,on,whole,150,160,170,dinner:20,48,24.00,,
small,Hake bites,raw,HKE,supreme,on,whole,82,90,98,dinner:20,48,14.00,,
whole,Whole hake,raw,HKE,whole,on,whole,400,450,500,dinner:5,90,,,
oyster,Oysters,live,OYG,shell,off,live,500,500,500,dinner:5,,,,6
END
does import menu m.csv

# hake DISH:N... - the chef fixes these, and nothing of the others.
hake()
{
	set -- "$@" large:0 small:0 whole:0 oyster:0
	does expect 2026-11-27/dinner --by AK --clear covers
	for n; do
		case " $fixed " in
		*" ${n%%:*} "*) continue ;;
		esac
		fixed="$fixed ${n%%:*}"
		does expect 2026-11-27/dinner --by AK --fix "$n"
	done
}

# bad_menu COLUMNS REGEX - one line of a menu that is refused.
bad_menu()
{
	printf '%s\n%s\n' "$menu" "$1" >bad.csv
	refuses 2 "^pinbone: bad\\.csv:2:[0-9]*: $2" import menu bad.csv
}

row='x,X,raw,HKE,supreme,on,whole,150,160,170,dinner:20,48'
bad_menu "$row,-1,,"  'price'
bad_menu "$row,free,,"  'price'
bad_menu "$row,1.234,,"  'price'
bad_menu "$row,,0,"  'finishing that leaves 0'
bad_menu "$row,,101,"  'finish'
bad_menu "$row,,x,"  'finish'
bad_menu "$row,,,0"  'pieces'
bad_menu "$row,,,1/0"  'pieces'
bad_menu "$row,,,six"  'pieces'
bad_menu "$row,,,1001"  'pieces'
bad_menu 'x,X,raw,HKE,supreme,on,whole,170,160,150,dinner:20,48,,,' \
    'weights must be low <= target <= high'
bad_menu 'x,X,raw,HKE,supreme,on,whole,150,160,170,dinner:20,0,,,' \
    'a yield of 0 gives nothing'

# --- offers ----------------------------------------------------------------

offers='supplier,species,presentation,price,step,fish'
cat >more.csv <<'END'
code,name,address,approval,contact
tern,Tern Brothers,"4 Net Loft",XX 1002,desk
END
does import suppliers more.csv
cat >o.csv <<END
$offers
gannet,HKE,whole,12.00,500,1200
gannet,HKE,whole,11.00,500,800
gannet,COD,gutted,9.50,3kg,
tern,HKE,whole,12.50,500,1000
END
does import offers o.csv
expect_out 'offers: 4 added, 0 changed, 0 as before'
mark
does import offers o.csv
expect_out 'offers: 0 added, 0 changed, 4 as before'
expect_unchanged
# What a supplier no longer lists is dropped; the other keeps his.
printf '%s\ngannet,HKE,whole,12.10,500,1200\n' "$offers" >o2.csv
does import offers o2.csv
expect_out '0 added, 1 changed, 0 as before'
expect_out '2'
does import offers o.csv

bad_offer()
{
	printf '%s\n%s\n' "$offers" "$1" >bad.csv
	refuses "$3" "^pinbone: bad\\.csv:2.*$2" import offers bad.csv
}

bad_offer 'heron,HKE,whole,12.00,500,' 'heron' 4
bad_offer ',HKE,whole,12.00,500,' 'supplier' 2
bad_offer 'gannet,ZZZ,whole,12.00,500,' 'ZZZ' 2
bad_offer 'gannet,HKE,live,12.00,500,' 'not bought live' 2
bad_offer 'gannet,HKE,sliced,12.00,500,' 'sliced' 2
bad_offer 'gannet,HKE,whole,0,500,' 'costs nothing' 2
bad_offer 'gannet,HKE,whole,-3,500,' 'price' 2
bad_offer 'gannet,HKE,whole,,500,' 'price' 2
bad_offer 'gannet,HKE,whole,12.00,0,' 'step' 2
bad_offer 'gannet,HKE,whole,12.00,,' 'step' 2
bad_offer 'gannet,HKE,whole,12.00,500,0' 'fish' 2
bad_offer 'gannet,HKE,whole,12.00,500,big' 'fish' 2
# Twice, also where the supplier goes by his name.
printf '%s\ngannet,HKE,whole,12,500,900\nGannet Fish,HKE,whole,11,500,900\n' \
    "$offers" >bad.csv
refuses 2 'bad.csv:3: this offer stands on line 2 already' \
    import offers bad.csv
printf '%s\ngannet,HKE,whole,12,500\n' "$offers" >bad.csv
refuses 2 'bad.csv:2' import offers bad.csv
refuses 2 '^pinbone: m.csv:1:1: unknown column "dish"' import offers m.csv

# --- weighed fish: one does where the eye opens two ------------------------

fixed=
hake large:2 small:2
take_in HKE whole 2 2kg - --fish-weights 1000,1000 --price 12.00
fish=$batch
does --json plan 2026-11-27/dinner --prep-list
expect_is "$(get fish_seen)" 2
expect_out '"number": 1,'
expect_no_out '"number": 2,'
expect_out '"opened_g": 1000,'
expect_out '"by_eye": {
      "fish": 2,
      "opened_g": 2000,'
does plan 2026-11-27/dinner --why
expect_out 'need 2, FIXED by the chef'
expect_out 'the chef fixed 2'
expect_out 'fish 1, 1000 g: 2 fillets each '
expect_out "$fish: yield 48 %"
expect_out 'Cost: what the opened fish are worth'
expect_no_out 'SHORT'

# The chef's word.
does --json plan 2026-11-27/dinner --first "$fish:2"
expect_out '"number": 2,'
expect_no_out '"number": 1,'
does --json plan 2026-11-27/dinner --leave "$fish:1"
expect_out '"number": 2,'
expect_no_out '"number": 1,'
does plan 2026-11-27/dinner --leave "$fish"
expect_out "leave $fish"
expect_out 'the chef leaves it closed'
expect_out 'MAKE 0, SHORT 2'
does plan 2026-11-27/dinner --first "$fish" --strict
expect_out 'MAKE 2'

none=$(no_batch)
refuses 4 'no such batch on hand' plan 2026-11-27/dinner --first "$none"
refuses 2 '^pinbone: --leave' plan 2026-11-27/dinner --leave nonsense
refuses 4 'weighed as number 3' plan 2026-11-27/dinner --first "$fish:3"
refuses 2 '^pinbone: ' plan 2026-11-27/dinner --first "$fish:0"
refuses 2 '^pinbone: ' plan 2026-11-27/dinner --first "$fish:"
refuses 2 'something else is said' plan 2026-11-27/dinner --first "$fish" \
    --leave "$fish"
refuses 2 'something else is said' plan 2026-11-27/dinner \
    --first "$fish:1" --serve-whole "$fish:1"
refuses 64 'option --first needs a value' plan 2026-11-27/dinner --first

# --- the pieces are on the board -------------------------------------------

# They weigh less than planned: 230 and 228 still give 150 + 80... which is
# under 82, so a second fish is opened.
does --json plan 2026-11-27/dinner --board "$fish:230,228"
expect_out '"on_board": true,'
expect_out '"on_board": false,'
does --json plan 2026-11-27/dinner --board "$fish:250,251"
expect_no_out '"on_board": false,'
does --json plan 2026-11-27/dinner --board "$fish:250" --board "$fish:251"
expect_no_out '"on_board": false,'
refuses 2 'write BATCH:WEIGHT' plan 2026-11-27/dinner --board "$fish"
refuses 2 'write BATCH:WEIGHT' plan 2026-11-27/dinner --board "$fish:"
refuses 2 'weight' plan 2026-11-27/dinner --board "$fish:240,-3"
refuses 2 'pieces come from 3 fish, the batch has 2' \
    plan 2026-11-27/dinner --board "$fish:240,240,240,240,240"
refuses 2 'no fish of that batch can be named' plan 2026-11-27/dinner \
    --first "$fish:1" --board "$fish:240"

# --- served whole, shellfish by the animal ---------------------------------

fixed=
hake whole:2 oyster:5
take_in HKE whole 4 2kg - --fish-weights 500,500,500,500
small=$batch
does --json plan 2026-11-27/dinner --serve-whole "$small"
expect_is "$(all whole_for | sort -u)" whole
expect_is "$(all whole_for | wc -l | tr -d ' ')" 2
take_in OYG live 50 5kg -
shell=$batch
refuses 2 'not counted fish' plan 2026-11-27/dinner --board "$shell:100"
does --csv plan 2026-11-27/dinner
tr -d '\r' <out | grep "^batch,oyster" | cut -d, -f 9,11,12 >row
dead=$(sed -n 's/^dead_shell[a-z_]* *= *\([0-9]*\).*/\1/p' station.ini)
n=$(((30 * 100 + 99 - dead) / (100 - dead)))
expect_is "$(cat row)" "5,$n,$((n * 100))"

# --- more than there is: by grade, at the cheapest -------------------------

fixed=
hake large:40 small:12
does --json plan 2026-11-27/dinner --order-list
expect_out '"supplier": "gannet",'
[ "$(all fish_g | head -n 1)" -gt 0 ] || fail 'no grade ordered'
pass
expect_is "$(($(get order_g) % 500))" 0
does plan 2026-11-27/dinner --why
expect_out 'from gannet'
expect_out 'a kilogram, '
expect_out 'SHORT'

# --- ten services, the same bytes twice, and no fish at all ----------------

{
	echo date,service,covers
	for d in 01 02 03 04 05; do
		echo "2026-12-$d,lunch,60"
		echo "2026-12-$d,dinner,80"
	done
} >b.csv
does import bookings b.csv
day=2026-12-01
at=09:00
does --json plan 2026-12-05/dinner
cp out one
expect_is "$(get earlier_services)" 9
does --json plan 2026-12-05/dinner
cmp -s one out || fail 'another plan of the same stock'
pass
# By then every batch is out of date: all is short, none is opened.
expect_is "$(all fish_seen)" 0
expect_no_out '"reason": "taken"'
