# Printers and the queue: queued apart from sending, a worker, status, answers
# and cancels, two printers, what happens to a label while it waits.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen 'language = zpl' 'address = file:one.zpl'
# A second printer takes from the first what it does not say.
cat >>station.ini <<'END'

[printer bench]
address = file:two.zpl
END
take_in COD whole 9 7200 -
cod=$batch
does --json prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:3:408
one=$(all code | sed -n 1p)
two=$(all code | sed -n 2p)
three=$(all code | sed -n 3p)

# until_sending CODE - its label is on its way; somebody sends, so a start in
# between calls nothing unsure.
until_sending()
{
	i=0
	sending=
	while [ -z "$sending" ] && [ $i -lt 400 ]; do
		sleep 0.02
		i=$((i + 1))
		does --csv printer queue
		sending=$(grep ",$1,use-by,,0,0,sending," out) || :
	done
	[ -n "$sending" ] || fail 'the label was never on its way'
	pass
}

paper()
{
	if [ -e "$1" ]; then grep -ac '\^XZ' "$1" || :; else echo 0; fi
}

# --- list and status --------------------------------------------------------

does printer list
expect_out 'main         file:one.zpl, zpl, 60 x 40 mm, 203 dpi'
expect_out 'bench        file:two.zpl, zpl, 60 x 40 mm, 203 dpi'
does --json printer list
expect_is "$(all name | tr '\n' ' ')" 'main bench '
does --csv printer list
expect_out 'name,address,language,'
does printer status
expect_out 'main         ready: there, but it cannot be asked how it is'
does printer status bench
expect_no_out 'main'
refuses 2 'printer "oven" is not in the settings, there are: main bench$' \
    printer status oven
refuses 2 'printer takes list, status, .*, not "shred"' printer shred
refuses 2 'printer queue takes nothing' printer queue x
refuses 2 'printer answer takes CODE' printer answer "$one"
rm -f one.zpl two.zpl

# --- queued, then sent by whoever works the queue ---------------------------

does label print "$one" "$two" --by AK --queue
expect_out "$one: label queued to file:one.zpl"
expect_is "$(paper one.zpl)" 0
does label print "$one" --by AK --queue # the same label, not another
does printer queue
expect_is "$(grep -c ' queued ' out)" 2
does --csv printer queue
expect_is "$(grep -c ',queued,' out)" 2
does printer work --once
expect_out "$one: label sent, on main"
expect_out "$two: label sent, on main"
expect_is "$(paper one.zpl)" 2
does printer work --once
[ ! -s out ] || fail 'there was nothing to do'
pass
does printer queue
expect_out 'nothing in the queue'
expect_out 'settled, newest first'

# Each on the printer it names; what is queued there is not moved.
does label print "$three" --by AK --queue --printer BENCH
refuses 3 "label of $three is queued on printer bench: pinbone printer cancel" \
    label print "$three" --by AK --printer main
does label print "$three" --by AK
expect_is "$(paper one.zpl)" 2
expect_is "$(paper two.zpl)" 1
refuses 2 'printer "oven" is not in the settings' \
    label reprint "$three" --by AK --printer oven
refuses 2 '--wait' label reprint "$three" --by AK --wait 601

# --- looked up once more ----------------------------------------------------

does --json prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:3:408 \
    --print --queue
held=$(all code | sed -n 1p)
used=$(all code | sed -n 2p)
fine=$(all code | sed -n 3p)
does hold "$held" --by AK --reason 'smells'
expect_out '1 queued label'
does use "$used" --by AK --reason test
does printer work --once
! grep -q "^$held" out || fail 'a label of what is on hold was still queued'
expect_out "$used: label cancelled: portion $used is used up"
expect_out "$fine: label sent"
expect_is "$(paper one.zpl)" 3
does log
expect_out 'print    '

# A label that says so, for what is on hold and for nothing else.
refuses 3 "$held is on hold: it gets no label" label print "$held" --by AK
does label hold "$held" --by AK
expect_out "$held: hold label sent"
does label hold "$held" --by AK
expect_out "$held: hold label sent, reprint 1"
refuses 3 "$fine is not on hold: it gets no hold label" \
    label hold "$fine" --by AK

# --- cancel -----------------------------------------------------------------

does --json prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:3:408
a=$(all code | sed -n 1p)
b=$(all code | sed -n 2p)
c=$(all code | sed -n 3p)
does label print "$a" --by AK --queue
does printer cancel "$a" --by LM
expect_out "$a: label cancelled"
refuses 3 "$a has no label that is queued" printer cancel "$a" --by LM
refuses 2 '--by is missing' printer cancel "$a"
refuses 4 . printer cancel "$(no_portion)" --by LM
refuses 4 'there is no job 9999' printer cancel job9999 --by LM
does label print "$a" --by AK # it never was a label: no mark
echo "$a: label sent to file:one.zpl" | expect_out_is

# --- a label in mid-air -----------------------------------------------------

# A pipe that is nearly full and that nobody empties: a label stops half way.
mkfifo pipe
clog()
{
	settings 'language = zpl' 'address = file:pipe' \
	    "patience_seconds = $1"
	sleep 30 <>pipe &
	reader=$!
	head -c 63000 /dev/zero >pipe
}
unclog()
{
	kill $reader
	wait $reader 2>/dev/null || :
	settings 'language = zpl' 'address = file:one.zpl'
}

clog 1
p label print "$b" --by AK
expect_status 1
expect_one_line_err
expect_err "^pinbone: the label of $b may be half printed: stopped after [0-9]+ \
of [0-9]+ bytes: look for it, then pinbone printer answer $b yes.no.later\$"
expect_out "$b: label unsure"
unclog

# Killed over it: the next start asks, once, and names it.
clog 60
"$PINBONE" --config station.ini --db k.db --now "${day}T$at" \
    label print "$c" --by AK >/dev/null 2>&1 &
pid=$!
until_sending "$c"
kill -9 $pid
wait $pid 2>/dev/null || :
unclog
p stock
expect_status 0
expect_err '^pinbone: 1 label was on the way when the program last ended$'
for asked in "$b" "$c"; do
	expect_err "^did the label of $asked come out\? pinbone printer \
answer $asked yes.no.later\$"
done
does stock
does printer queue
expect_is "$(grep -c ' unsure ' out)" 2
expect_out 'the program ended while it was being sent'

# The rest of the queue goes on; these two wait for an answer.
before=$(paper one.zpl)
does printer work --once
expect_is "$(paper one.zpl)" "$before"
refuses 3 "$b has a label already, if it came out: pinbone printer answer" \
    label print "$b" --by AK
refuses 2 'did it come out\? answer yes, no or later' \
    printer answer "$b" perhaps --by LM
does printer answer "$b" later --by LM
expect_out "$b: label unsure"
does printer answer "$b" yes --by LM
expect_out "$b: label confirmed"
refuses 3 "$b has no label that is unsure" printer answer "$b" yes --by LM
does trace "$b"
expect_out 'use-by, confirmed, by AK: said to have come out by LM'
does --csv trace "$b"
expect_out 'use-by, confirmed, answered by LM'
does --json trace "$b"
expect_out '"says": "use-by"'
expect_out '"said_by": "LM"'
does printer answer "$c" no --by LM
expect_out "$c: label failed"
expect_out "$c: label sent, reprint 1 to file:one.zpl"
expect_is "$(paper one.zpl)" $((before + 1))
does log
expect_out 'answer   '
expect_out 'cancel   '
refuses 3 "$c has a label already: print it once more, marked" \
    label print "$c" --by AK

# --- the worker -------------------------------------------------------------

# It waits for labels, sends them as they come, and ends when told to.
"$PINBONE" --config station.ini --db k.db --now "${day}T$at" printer work \
    >worker.out 2>worker.err &
worker=$!
does --json prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:3:408 \
    --print --queue
made=$(all code)
i=0
while [ $i -lt 400 ] && [ "$(grep -c ': label sent' worker.out)" -lt 3 ]; do
	sleep 0.02
	i=$((i + 1))
done
for m in $made; do
	grep -q "^$m: label sent, on main\$" worker.out ||
	    fail "the worker did not send $m"
	pass
done
kill -TERM $worker
status=0
wait $worker || status=$?
ran='printer work, told to end'
expect_status 0
[ ! -s worker.err ] || fail 'the worker complained'
pass

# In the middle of a label it ends with that label, whatever becomes of it.
does --json prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:2:272 \
    --print --queue
a=$(all code | sed -n 1p)
b=$(all code | sed -n 2p)
clog 60
"$PINBONE" --config station.ini --db k.db --now "${day}T$at" printer work \
    >worker.out 2>worker.err &
worker=$!
until_sending "$a"
kill -TERM $worker
sleep 0.2
kill -0 $worker || fail 'it left a label half out'
kill -TERM $worker # in a hurry: no more patience
status=0
wait $worker || status=$?
ran='printer work, told twice'
expect_status 0
unclog
does printer queue
expect_out 'stopped after '
expect_is "$(grep -c ' unsure ' out)" 1
expect_is "$(grep -c ' queued ' out)" 1
does printer work --once
expect_out "$b: label sent"

# --- a label that expired while it waited ------------------------------------

does --json prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:1:136 \
    --print --queue --yield-ok
late=$(all code)
day=2026-11-28
does printer work --once
expect_out "$late: label cancelled: $late has expired"
