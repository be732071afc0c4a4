# Lists on a roll: as text, as pictures, as data; and what is refused.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"

settings
kitchen
take_in COD whole 3 2400 -
cod=$batch
does --json prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:4:544:2 \
    --waste 200 --yield-ok
set -- $(all code)
one=$1
two=$2

# --- text ------------------------------------------------------------------

does ticket recall "$cod"
expect_out "Recall $cod"
expect_out '== 1  PULL NOW: portions on hand       4'
expect_out "[ ] $one "
expect_out "[ ] $two "
expect_out '[ ] NOT ON HOLD: block it first'
cp out recall
does ticket recall "$two" --text
cmp -s out recall || fail 'not the batch of the portion'
pass
[ "$(awk 'length > 40' out | wc -l)" -eq 0 ] || fail 'wider than 40 columns'
pass
does ticket day
expect_out "$cod"
does ticket day "$day"
does --csv ticket day
expect_out 'style,left,right'
expect_out 'head,Goods in,'
does --json ticket recall "$cod"
expect_out '"style": "title"'
expect_out "\"left\": \"Recall $cod\""
does ticket prep "2026-11-27/dinner"
expect_out '== Mind'
expect_no_out '== Why'
does ticket prep "2026-11-27/dinner" --why
expect_out '== Why'
does ticket order "2026-11-27/dinner"
expect_out 'Weights are estimates'
# 200 g of 800 g: a quarter; 544 g came out.
does ticket waste
expect_out 'waste at the board                 200 g'
expect_out '== All these weeks                  25 %'
cp out waste
does ticket waste "$day"
cmp -s out waste || fail 'today is not the day when none is given'
pass
does ticket waste 2020-01-01
expect_out 'Nothing was broken down'
does ticket yields
expect_out '== Cod, whole to skinless'
expect_out '1 more set aside'
[ "$(awk 'length > 40' out | wc -l)" -eq 0 ] || fail 'wider than 40 columns'
pass
does --json ticket yields
expect_out '"left": "Yields"'
# What the chef says counts on paper too.
does ticket prep "2026-11-27/dinner" --leave "$cod"
expect_out 'the chef leaves it closed'

# --- pictures --------------------------------------------------------------

does ticket recall "$cod" --preview pages --width 58
expect_out "pages/recall-$cod-1.png: page 1 of "
n=$(sed -n 's/.*: page 1 of //p' out)
[ "$n" -ge 1 ] && [ "$(ls pages | wc -l)" -eq "$n" ] ||
    fail "not $n pages in the folder"
pass
does ticket prep "2026-11-27/dinner" --preview pages
expect_file "pages/prep-2026-11-27-dinner-1.png"
does ticket recall "$cod" --png wide.png --width 120 --dpi 300
expect_file wide.png
# Bytes 16 to 23 of a PNG are its width and height (RFC 2083, 4.1.1):
# 120 mm at 300 dpi are 1417 dots.
expect_is "$(od -A n -t u1 -j 16 -N 4 wide.png | tr -s ' ')" ' 0 0 5 137'
does ticket recall "$cod" --png same.png --width 120 --dpi 300
cmp -s wide.png same.png || fail 'the same list drawn differently'
pass
# A roll has its own printer, which [printer] tickets names.
cat >>station.ini <<END
[printer roll]
width_mm = 80
gap_mm = 0
END
sed 's/^tickets = .*/tickets = roll/' station.ini >station.new
mv station.new station.ini
does ticket recall "$cod" --png roll.png
expect_is "$(od -A n -t u1 -j 16 -N 4 roll.png | tr -s ' ')" ' 0 0 2 127'
for report in waste yields; do
	does ticket $report --print --queue --by AK
	does log --last 1
	expect_out 'report'
	expect_out 'page on roll'
done
does ticket recall "$cod" --png main.png --printer main
expect_is "$(od -A n -t u1 -j 16 -N 4 main.png | tr -s ' ')" ' 0 0 1 223'

# --- refused ---------------------------------------------------------------

refuses 2 'ticket takes prep, order, recall, day, waste or yields, not "test"' ticket test
refuses 2 'ticket prep needs DATE/SERVICE' ticket prep
refuses 2 'ticket recall needs a code' ticket recall
refuses 2 'check character' ticket recall 26330-01A
refuses 4 'not in this station file' ticket recall "$(no_batch)"
refuses 3 'has not begun' ticket day 2026-11-27
refuses 2 . ticket day tomorrow
refuses 3 'has not begun: .* name a day up to today' ticket waste 2026-11-27
refuses 2 . ticket yields soon
refuses 2 'no page 99' ticket recall "$cod" --png x.png --page 99
expect_no_file x.png
refuses 2 . ticket recall "$cod" --png x.png --width 20
refuses 2 'at 204 dpi' ticket recall "$cod" --png x.png --dpi 204
refuses 2 'no \[printer nobody\]' ticket recall "$cod" --png x.png \
    --printer nobody
refuses 2 '^pinbone: --by is missing' ticket recall "$cod" --print
refuses 2 'printer main holds labels of 60 x 40 mm: lists need a continuous' \
    ticket recall "$cod" --print --by AK --printer main
p ticket
expect_status 64
expect_one_line_err
