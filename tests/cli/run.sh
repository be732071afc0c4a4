#!/bin/sh
# Run the command tests, each in a fresh folder with a clean environment.
#
#	tests/cli/run.sh PROGRAM [FILTER]	all, or names that begin with FILTER
#	tests/cli/run.sh --self-test		does a failure count as one?
#
# KEEP=1 keeps the folders.  CLI_TIMEOUT is the limit for one script in
# seconds, 120 when not set.
set -u
here=$(cd "$(dirname "$0")" && pwd)

usage()
{
	echo 'usage: tests/cli/run.sh PROGRAM [FILTER] | --self-test' >&2
	exit 2
}

# one SCRIPT - run it; the log is in $work/log.  0 when it passed.
one()
{
	box=$work/$(basename "$1" .sh)
	mkdir -p "$box/home" "$box/run"
	: >"$box/met"
	(cd "$box/run" && exec env -i PATH=/usr/local/bin:/usr/bin:/bin \
	    HOME="$box/home" TMPDIR="$box/home" TZ=UTC LC_ALL=C.UTF-8 \
	    TERM=dumb PINBONE="$program" TOP="$top" CLI_MET="$box/met" \
	    ASAN_OPTIONS=exitcode=99 UBSAN_OPTIONS=exitcode=99 \
	    timeout -k 5 "${CLI_TIMEOUT:-120}" sh "$1") \
	    </dev/null >"$work/log" 2>&1
	rc=$?
	if [ $rc -eq 124 ] || [ $rc -eq 137 ]; then
		echo "stopped after ${CLI_TIMEOUT:-120} seconds" >>"$work/log"
		return 1
	fi
	if [ $rc -eq 0 ] && [ ! -s "$box/met" ]; then
		echo 'the script checked nothing' >>"$work/log"
		return 1
	fi
	return $rc
}

run_all()
{
	passed=0
	failed=0
	for script in "$tests"/[0-9][0-9]-*.sh; do
		name=$(basename "$script" .sh)
		[ -f "$script" ] || continue
		case $name in
		"$filter"*) ;;
		*) continue ;;
		esac
		if one "$script"; then
			passed=$((passed + 1))
			echo "pass $name"
		else
			failed=$((failed + 1))
			echo "FAIL $name"
			# Not sed: the last line may lack its end.
			awk '{ print "    " $0 }' "$work/log"
		fi
	done
	[ $((passed + failed)) -gt 0 ] || echo "no test begins with '$filter'"
	echo "cli: $passed passed, $failed failed"
	[ $failed -eq 0 ] && [ $passed -gt 0 ]
}

# --- self-test -------------------------------------------------------------

# script NAME LINE... - a script of the self-test.
script()
{
	to=$work/t/$1.sh
	shift
	printf '%s\n' '. "$TOP/tests/cli/lib.sh"' "$@" >"$to"
}

self_test()
{
	mkdir -p "$work/t" || exit 2
	cat >"$work/fake" <<'END'
#!/bin/sh
case ${1:-} in
say) printf '%s\n' "$2" ;;
err) printf "$2" >&2; exit 3 ;;
crash) kill -SEGV $$ ;;
env) env; pwd; ls -A ;;
esac
END
	chmod +x "$work/fake"
	script 01-pass 'run say hello' 'expect_status 0' 'expect_out hell' \
	    'expect_no_err' 'expect_no_out bye' 'echo hello | expect_out_is' \
	    'run err "one line\n"' 'expect_status 3' 'expect_one_line_err' \
	    'expect_err "^one l.ne$"' 'expect_no_file none'
	script 02-pass-env 'run env' 'expect_out TZ=UTC' \
	    'expect_out LC_ALL=C.UTF-8' 'expect_out HOME=/' \
	    'expect_no_out CLI_LEAK' 'expect_no_out 01-pass'
	script 11-fail-status 'run say a' 'expect_status 1'
	script 12-fail-out 'run say a' 'expect_out b'
	script 13-fail-no-out 'run say a' 'expect_no_out a'
	script 14-fail-out-is 'run say a' 'echo b | expect_out_is'
	script 15-fail-err 'run err "a\n"' 'expect_err "^b"'
	script 16-fail-two-lines 'run err "a\nb\n"' 'expect_one_line_err'
	script 17-fail-no-line 'run say a' 'expect_one_line_err'
	script 18-fail-half-line 'run err a' 'expect_one_line_err'
	script 19-fail-some-err 'run err a' 'expect_no_err'
	script 20-fail-file 'run say a' 'expect_file none'
	script 21-fail-no-file 'run say a' 'expect_no_file out'
	script 22-fail-command 'run say a' 'expect_status 0' 'false'
	script 23-fail-nothing-checked 'run say a'
	script 24-fail-crash 'run crash' 'expect_status 139'
	script 25-fail-hang 'run say a' 'expect_status 0' 'sleep 30'
	script 26-fail-unset 'run say a' 'expect_status 0' 'echo $unset_name'
	script 27-fail-syntax 'run say a' 'expect_status 0' 'if'
	script 28-fail-said 'run say a' 'fail "my words"'

	CLI_LEAK=1 CLI_TESTS=$work/t CLI_TIMEOUT=2 TZ=Asia/Tokyo \
	    "$here/run.sh" "$work/fake" >"$work/seen"
	rc=$?
	bad=0
	[ $rc -ne 0 ] || { bad=1; echo 'failures ended with status 0'; }
	for to in "$work"/t/*.sh; do
		name=$(basename "$to" .sh)
		case $name in
		*-pass*) want="pass $name" ;;
		*) want="FAIL $name" ;;
		esac
		grep -qxF "$want" "$work/seen" ||
		    { bad=1; echo "not counted: $want"; }
	done
	grep -qxF 'cli: 2 passed, 18 failed' "$work/seen" ||
	    { bad=1; tail -n 1 "$work/seen"; }
	grep -qF 'my words' "$work/seen" || { bad=1; echo 'no log shown'; }
	CLI_TESTS=$work/t "$here/run.sh" "$work/fake" 01 >"$work/seen" &&
	    grep -qxF 'cli: 1 passed, 0 failed' "$work/seen" ||
	    { bad=1; echo 'the filter does not work'; }
	CLI_TESTS=$work/t "$here/run.sh" "$work/fake" 99 >"$work/seen" &&
	    { bad=1; echo 'no test at all was taken for a pass'; }
	[ $bad -eq 0 ] && echo 'cli self-test: as it should be'
	return $bad
}

[ $# -ge 1 ] && [ $# -le 2 ] || usage
work=$(mktemp -d) || exit 2
[ "${KEEP:-}" = 1 ] || trap 'rm -rf "$work"' EXIT
[ "${KEEP:-}" = 1 ] && echo "kept in $work"
top=$(cd "$here/../.." && pwd)
tests=${CLI_TESTS:-$here}
filter=${2:-}
if [ "$1" = --self-test ]; then
	self_test
	exit
fi
case $1 in
/*) program=$1 ;;
*) program=$(pwd)/$1 ;;
esac
if [ ! -x "$program" ] || [ -d "$program" ]; then
	echo "tests/cli/run.sh: $1 is not a program" >&2
	exit 2
fi
run_all
