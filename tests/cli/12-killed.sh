# Killed in the middle, at any moment: nothing half done, nothing lost.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen 'language = zpl' 'address = file:labels.zpl'
take_in COD whole 90 72kg -
cod=$batch

# Delays in milliseconds; a run takes about ten.
delays='1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 2 4 6 8 10 12 14 16 18 20 3 5 7 9
11'

# killed MS ARGS... - kill -9 after MS milliseconds; counts the runs that were
# cut off.
cut=0
killed()
{
	ms=$1
	shift
	rm -f got
	"$PINBONE" --config station.ini --db k.db --now "${day}T$at" "$@" \
	    >got 2>/dev/null &
	pid=$!
	sleep "$(printf '0.%03d' "$ms")"
	kill -9 $pid 2>/dev/null || :
	status=0
	wait $pid 2>/dev/null || status=$?
	[ $status -ne 137 ] || cut=$((cut + 1))
	ran="pinbone $* (killed after $ms ms: $status)"
	[ $status -eq 0 ] || [ $status -eq 137 ] ||
	    fail 'neither done nor killed'
}

# whole - the file opens, every breakdown has its portions and every portion
# its breakdown, and the grams add up.
whole()
{
	p --json trace "$cod"
	expect_status 0
	expect_is "$(sed -n '/"balance_g"/,/}/p' out | awk -F '[:,]' '
	    /"received"/ { in_g = $2; next }
	    /": [0-9-]+/ && !/balance_g/ { n += $2 }
	    END { print n - in_g }')" 0 'grams'
	sed -n '/^  "breakdowns": \[/,/^  \],\{0,1\}$/p' out >preps
	sed -n '/^  "portions": \[/,$p' out >portions
	made=$(awk -F '[:,]' '/"portions":/ { n += $2 } END { print n + 0 }' preps)
	there=$(awk -F '[:,]' '/"servings":/ { n += $2 } END { print n + 0 }' \
	    portions)
	expect_is "$there" "$made" 'servings'
	# "servings" of an event would count twice: nothing was used here.
	sed -n 's/.*"breakdown": \([0-9]*\).*/\1/p' preps | sort -u >a
	sed -n 's/.*"breakdown": \([0-9]*\).*/\1/p' portions | sort -u >b
	cmp -s a b || fail 'a portion without a breakdown, or the other way'
	pass
}

# --- breakdowns ------------------------------------------------------------

done_runs=0
for ms in $delays; do
	killed "$ms" prep "$cod" --by AK --fish 1 --weight 800 \
	    --make cod-side:2:160 --make cod-side:3:140:3 --print
	[ $status -ne 0 ] || done_runs=$((done_runs + 1))
done
whole
[ "$(wc -l <a)" -ge $done_runs ] || fail 'a breakdown that was done is lost'
pass

# --- labels ----------------------------------------------------------------

# Breakdowns made whole, then their labels one by one.
i=0
while [ $i -lt 10 ]; do
	p --json prep "$cod" --by AK --fish 1 --weight 800 \
	    --make cod-side:3:272
	expect_status 0
	all code >>fresh
	i=$((i + 1))
done
n=0
for ms in $delays; do
	n=$((n + 1))
	code=$(sed -n ${n}p fresh)
	killed "$ms" label print "$code" --by AK
	echo "$code $status" >>printed
done
whole
echo "cut off: $cut of 60 runs"
[ $cut -ge 5 ] || fail "only $cut runs were killed in time: no test at all"

# What was on its way is unsure now, what was only queued waits; whatever the
# program said is printed is sent.  The paper has no more than the record
# allows.
p --json trace "$cod"
expect_status 0
! grep -q '"state": "sending"' out || fail 'a label still in mid-air'
pass
sent=$(grep -c '"state": "sent"' out) || :
unsure=$(grep -c '"state": "unsure"' out) || :
# On a slow machine every run may have been cut off before its first label.
[ -e labels.zpl ] || : >labels.zpl
paper=$(grep -ac '\^XZ' labels.zpl) || :
[ "$paper" -ge "$sent" ] && [ "$paper" -le $((sent + unsure)) ] ||
    fail "$paper labels printed, $sent sent and $unsure unsure on record"
pass
while read -r code ended; do
	p --json trace "$code"
	[ "$(grep -c '"state"' out)" -le 1 ] || fail 'a second first print'
	[ "$ended" -ne 0 ] || grep -q '"state": "sent"' out ||
	    fail "$code was printed, but the record does not say so"
	pass
done <printed

# The queue comes out by itself, none of it twice.
p printer work --once
expect_status 0
p --json printer queue
expect_status 0
expect_no_out '"state": "queued"'
p --json trace "$cod"
sent=$(grep -c '"state": "sent"' out) || :
paper=$(grep -ac '\^XZ' labels.zpl) || :
[ "$paper" -ge "$sent" ] && [ "$paper" -le $((sent + unsure)) ] ||
    fail "$paper labels printed, $sent sent and $unsure unsure on record"
pass

# And all of it can be printed now: first prints where nothing came out,
# reprints where something did or may have.
while read -r code ended; do
	p label print "$code" --by AK
	case $status in
	0 | 3) pass ;;
	*) fail 'neither printed nor refused' ;;
	esac
	[ "$status" -eq 0 ] || p label reprint "$code" --by AK
	expect_status 0
done <printed
