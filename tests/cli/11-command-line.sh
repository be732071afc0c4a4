# The command line: what it takes, what it says, how it ends.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"

commands='init import receive plan prep label stock use discard hold release
trace log config'

run --version
expect_status 0
expect_no_err
grep -qE '^pinbone [0-9]+\.[0-9]+\.[0-9]+$' out || fail 'no version'
[ "$(wc -l <out)" -eq 1 ] || fail 'more than a version'
pass

for way in --help -h help; do
	run $way
	expect_status 0
	expect_no_err
	for c in $commands; do
		expect_out "
  $c "
	done
	expect_out 'exit status'
	expect_out '   64  the command line cannot be understood'
	expect_out "local law and the kitchen's own"
done
for c in $commands; do
	for way in "$c --help" "$c -h" "--help $c" "$c x y z --help"; do
		# shellcheck disable=SC2086
		run $way
		expect_status 0
		expect_no_err
		expect_out "usage: pinbone $c [OPTIONS]"
		expect_out 'options of every command'
	done
done

# wrong REGEX ARGS... - 64, one line.
wrong()
{
	re=$1
	shift
	run "$@"
	expect_status 64
	expect_one_line_err
	expect_err "^pinbone$re"
	[ ! -s out ] || fail 'expected no output with an error'
}

wrong ': name a command: pinbone --help lists them$'
wrong ': "cook" is not a command: pinbone --help lists them$' cook
wrong ': "" is not a command' ''
wrong ': "STOCK" is not a command' STOCK
wrong ': option "--frobnicate" is not known here: see --help$' --frobnicate
wrong ' stock: option "--frobnicate" is not known here' stock --frobnicate
wrong ' stock: option "--servings" is not known here' stock --servings 3
wrong ' stock: option "-x" is not known here' stock -x
wrong ' stock: option --db needs a value$' stock --db
wrong ': option --config needs a value$' --config
wrong ' stock: takes no operands: see --help$' stock extra
wrong ' use: takes CODE: see --help$' use
wrong ' use: takes CODE' use 000-01U 000-05M
wrong ' import: takes bookings\|menu\|offers\|sales\|suppliers FILE' import bookings
wrong ' import: takes bookings\|menu\|offers\|sales\|suppliers FILE' import bookings a b
wrong ' plan: takes DATE/SERVICE' plan
wrong ' prep: takes BATCH' prep
wrong ' label: takes preview\|print\|reprint\|hold CODE' label print
wrong ' config: takes check\|sample' config
set --
for n in 1 2 3 4 5 6 7 8 9 10; do
	set -- "$@" a a a a a a a
done
wrong ' label: too many operands' label print "$@"
set --
for n in 1 2 3 4 5 6 7; do
	set -- "$@" --json --json --json --json --json --json --json \
	    --json --json --json
done
wrong ' stock: too many options' stock "$@"
# --- a station: options before and behind, -- ------------------------------

kitchen
take_in COD whole 4 3200 -
cod=$batch
run stock --db k.db --json --now 2026-11-26T09:00 --config station.ini
expect_status 0
mv out there
run --config station.ini --db k.db --now 2026-11-26T09:00 --json stock
expect_status 0
cmp -s out there || fail 'options before and behind differ'
pass
run --config=station.ini --db=k.db stock --now=2026-11-26T09:00 --json
expect_status 0
cmp -s out there || fail 'options with = differ'
pass
# An operand between options, and behind --.
run --config station.ini trace --db k.db "$cod" --json --now 2026-11-26T09:00
expect_status 0
expect_out "\"code\": \"$cod\","
does trace -- "$cod"
expect_out "BATCH $cod"
does trace --json -- "$cod"
refuses 2 '"--json" is not a code' trace -- --json
p trace -- "$cod" --json
expect_status 64
expect_one_line_err
# The last of two settles it.
does --json stock
run --config none.ini --db k.db --now 2026-11-26T09:00 --json stock \
    --config station.ini
expect_status 0
run --db - stock --config station.ini
expect_status 4
expect_one_line_err

# --- output ----------------------------------------------------------------

# No escapes, whatever the terminal is; text is UTF-8; lines end.
mkdir -p plain
for c in stock log "trace $cod" 'plan 2026-11-27/dinner' 'config sample'; do
	# shellcheck disable=SC2086
	does $c
	cp out plain/out
	if LC_ALL=C grep -q '[[:cntrl:]]' out; then
		fail 'control characters in the output'
	fi
	[ -z "$(tail -c 1 out)" ] || fail 'the last line has no end'
	pass
	for env in NO_COLOR=1 TERM=xterm-256color LC_ALL=C LC_ALL=POSIX; do
		ran="$env pinbone $c"
		# shellcheck disable=SC2086
		env $env "$PINBONE" --config station.ini --db k.db \
		    --now "${day}T$at" $c >out 2>errf || fail 'failed'
		cmp -s out plain/out || fail 'the output is another'
		pass
	done
done

# --- output that does not get through --------------------------------------

for c in '--help' 'stock --help' 'config sample' stock '--json stock' log \
    "trace $cod" 'plan 2026-11-27/dinner'; do
	ran="pinbone $c >/dev/full"
	status=0
	# shellcheck disable=SC2086
	"$PINBONE" --config station.ini --db k.db --now "${day}T$at" $c \
	    >/dev/full 2>errf || status=$?
	: >out
	expect_status 1
	expect_one_line_err
	expect_err '^pinbone: standard output: No space left on device$'
done

# --- a record that cannot be shown is still one ----------------------------

ran='receive >/dev/full'
status=0
mark
"$PINBONE" --config station.ini --db k.db --now "${day}T$at" receive --by AK \
    --supplier gannet --document N-5 --species HAD --presentation whole \
    --count 2 --weight 1500 --lot L-5 --temperature 1 --area x \
    --method caught --accept >/dev/full 2>errf || status=$?
expect_status 1
expect_one_line_err
mark after
! cmp -s before after || fail 'not recorded'
pass
cp errf lost
# --version takes the same care.
ran='--version >/dev/full'
status=0
"$PINBONE" --version >/dev/full 2>errf || status=$?
expect_status 1

# Help fits a screen of 80 columns.
for c in $commands; do
	run $c --help
	[ "$(awk '{ if (length > n) n = length } END { print n }' out)" -le 79 ] ||
	    fail 'a line of the help is longer than 79 columns'
	! grep -q '[?,;:][.;:]$' out || fail 'a sentence ends twice'
	# A word alone on a line of the text, between the summary and options.
	! sed -n '3,/^options/{/^options/d;p;}' out | grep -Eq '^[^ ]+$' ||
	    fail 'a line of the help has one word'
	pass
done

# Whatever is typed: one line, and no control codes back to the screen.
wrong ': ' "$(printf 'a\033[2J\nb')"
wrong ': ' "$(printf '\351\351')"
wrong ': ' "$(printf '%5000s' | tr ' ' x)"
wrong ' stock: ' stock "--$(printf 'a\033[2J\nb')"
wrong ' stock: ' stock "--$(printf '%5000s' | tr ' ' x)"

# The record above was made though its answer was lost: the line has to say
# so, or the next try makes a second batch of the same fish.
cp lost errf
ran='receive >/dev/full'
expect_err 'recorded'
