# A screen as text, without a terminal: shown, and nothing recorded.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"

kitchen
mark
titles='Help:Today:Goods in:Prep list:Breakdown:On hand:Service:Trace:Menu and covers:Printing:Records'
n=0
echo "$titles" | tr ':' '\n' >titles
while IFS= read -r title; do
	n=$((n + 1))
	does station --show "F$n"
	[ "$(grep -c '' out)" -eq 24 ] || fail "F$n has not 24 rows"
	expect_is "$(sed -n '1s/^ \(.*\)   TRAINING, NOT FOR SERVICE .*/\1/p' out)" \
	    "$title"
done <titles
expect_is "$n" 11
day=2026-11-27
does station --show F2
expect_out 'portions to make'
does station --show f2 --ascii
LC_ALL=C grep -q '[^ -~]' out && fail 'not plain'
pass
expect_unchanged
for key in F0 F12 Enter u '' 'F2 F3'; do
	refuses 2 'it takes F1 to F11' station --show "$key"
done
# Without a terminal and without --show there is no station.
"$PINBONE" --config station.ini --db k.db station </dev/null >out 2>errf && fail 'it ran'
[ -s errf ] && [ ! -s out ] || fail 'it does not say why'
pass
