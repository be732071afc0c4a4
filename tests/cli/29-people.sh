# Who works here: added, changed, gone and back; PINs by standard input.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"

settings
p init
does people
expect_out 'nobody yet: pinbone people add INITIALS NAME'
does --json people list
expect_out '[]'

does --by AK people add AK 'Ada Kestrel' --chef
expect_out 'Ada Kestrel, chef, no PIN yet'
does --by AK people add LM 'Lou Marram'
expect_out 'Lou Marram'
refuses 3 'AK is Ada Kestrel already: choose other initials' \
    --by LM people add ak 'Another'
refuses 2 'initials is empty' --by AK people add '' 'Nobody'
refuses 2 'without blanks' --by AK people add 'A K' 'Nobody'
refuses 2 'initials .* 15' --by AK people add ABCDEFGHIJKLMNOP 'Nobody'
refuses 2 'name is empty' --by AK people add XY ''
refuses 2 '--by is missing' people add XY 'Xan Yew'
refuses 2 'people list, people add' people add XY
refuses 2 'people list, people add' people promote XY
refuses 2 'the other options are for change' --by AK people add XY Yew \
    --name Yew
refuses 4 'nobody here has the initials "ZZ"' --by AK people change ZZ --chef
refuses 2 'give one of them' --by AK people change LM --chef --no-chef

# A PIN: one line of standard input, kept as a hash, never in the log.
pin()
{
	echo "$2" >pin.txt
	ran="pinbone people pin $1"
	status=0
	"$PINBONE" --config station.ini --db k.db --now "${day}T$at" \
	    --by AK people pin "$1" <pin.txt >out 2>errf || status=$?
}
pin AK 24680
expect_status 0
expect_out 'AK has a new PIN'
expect_no_out 24680
pin AK 123
expect_status 2
expect_one_line_err
pin AK 1234567890123
expect_status 2
pin AK 12a4
expect_status 2
pin AK ''
expect_status 2
pin ZZ 24680
expect_status 4
does people list
expect_out 'Ada Kestrel, chef with PIN'
if grep -q 24680 k.db k.db-wal 2>/dev/null; then
	fail 'the PIN stands in the file'
fi
grep -aq 'argon2id' k.db k.db-wal 2>/dev/null ||
	fail 'no Argon2id hash in the file'
pass 'the file holds a hash, not the PIN'
does log
expect_no_out 24680
expect_out 'PIN set'

# The only chef with a PIN stays one.
refuses 3 'AK is the only chef with a PIN' --by AK people leave AK
refuses 3 'AK is the only chef with a PIN' --by AK people change AK --no-chef
does --by AK people change LM --chef --name 'Lou Marram-Reed'
expect_out 'Lou Marram-Reed, chef, no PIN yet'
refuses 3 'AK is the only chef with a PIN' --by AK people leave AK
pin LM 13579
expect_status 0
does --by LM people leave AK
expect_out 'Ada Kestrel, left'
does --json people list
expect_out '"initials": "LM"'
expect_out '"active": false'
does --by LM people back AK
expect_out 'Ada Kestrel, chef with PIN'
does log
expect_out 'name: Lou Marram -> Lou Marram-Reed; chef: no -> yes'
