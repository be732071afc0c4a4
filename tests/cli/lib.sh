# lib.sh - helpers of the command tests; sourced first by every NN-*.sh:
#
#	. "$TOP/tests/cli/lib.sh"
#	run batch list --store x.db
#	expect_status 0
#	expect_out 'no batches'
#
# The script runs in an empty folder of its own, under set -eu.  The first
# expectation that is not met says what was seen and ends the script.  A script
# that met no expectation at all is counted as failed by run.sh.
set -eu

ran='nothing yet'
status=0
said=0

# Something failed that was not an expectation: say so in the log.
trap 'rc=$?
[ $rc -eq 0 ] || [ $said -eq 1 ] ||
    echo "a command of the script failed with $rc; last run: $ran"' EXIT

# pass [MESSAGE] - count one expectation as met.
pass()
{
	echo "ok: ${1:-$ran}" >>"$CLI_MET"
}

# fail MESSAGE - end the script, showing the last run.
fail()
{
	said=1
	echo "$1"
	echo "  ran: $ran"
	echo "  status: $status"
	for f in out errf; do
		[ -s $f ] || continue
		echo "  $f:"
		head -n 20 $f | sed 's/^/    /'
	done
	exit 1
}

# run ARGS... - run the program: stdout to `out`, stderr to `errf`, exit status
# to $status.  A crash or a sanitizer's report is never an expected result.
run()
{
	ran="pinbone $*"
	status=0
	"$PINBONE" "$@" >out 2>errf || status=$?
	[ $status -ne 99 ] || fail 'a sanitizer reported a fault'
	[ $status -lt 126 ] || fail 'the program did not end by itself'
}

expect_status()
{
	[ "$status" -eq "$1" ] || fail "expected status $1"
	pass
}

# expect_out TEXT, expect_no_out TEXT - literal text, more lines than one
# allowed, is (is not) somewhere in the output.
expect_out()
{
	case "$(cat out)" in
	*"$1"*) pass ;;
	*) fail "expected in the output: $1" ;;
	esac
}

expect_no_out()
{
	case "$(cat out)" in
	*"$1"*) fail "not expected in the output: $1" ;;
	*) pass ;;
	esac
}

# expect_out_is - the whole output is what comes on standard input.
expect_out_is()
{
	cat >expected
	if ! diff expected out >difference; then
		cat difference
		fail 'the output differs (< expected, > seen)'
	fi
	pass
}

# expect_err REGEX - an extended regular expression matches a line of stderr.
expect_err()
{
	grep -qE -e "$1" errf || fail "expected on stderr: $1"
	pass
}

# expect_one_line_err - stderr is exactly one line, whole and not blank.
expect_one_line_err()
{
	[ "$(grep -c '' errf)" = 1 ] && [ "$(wc -l <errf)" -eq 1 ] &&
	    grep -q '[^[:space:]]' errf || fail 'expected one line on stderr'
	pass
}

# expect_no_err - nothing at all on stderr.
expect_no_err()
{
	[ ! -s errf ] || fail 'expected nothing on stderr'
	pass
}

# expect_file PATH, expect_no_file PATH
expect_file()
{
	[ -s "$1" ] || fail "expected a file that is not empty: $1"
	pass
}

expect_no_file()
{
	[ ! -e "$1" ] || fail "not expected to exist: $1"
	pass
}
