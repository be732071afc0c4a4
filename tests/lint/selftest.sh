#!/bin/sh
# Show each check a fault: a check that cannot fail proves nothing.
#
# A small clean tree must pass every check; then one fault at a time is put
# into a fresh copy of it, and the check must name that fault.
set -u
LC_ALL=C
export LC_ALL
lint=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT
bad=0

complain()
{
	echo "tests/lint/selftest.sh:0: $*"
	bad=1
}

# clean_tree - $work/t becomes a tree without a fault.
clean_tree()
{
	rm -rf "$work/t"
	mkdir -p "$work/t"
	cd "$work/t" || exit 2
	for d in src/base src/core src/store src/labels src/config \
	    src/console include/base include/core include/store drivers \
	    tests/lint tests/unit config demo docs; do
		mkdir -p "$d"
	done
	for f in README.md DEVELOPERS.md LICENSE config/a.ini demo/a.txt \
	    docs/a.md; do
		echo 'A line.' >"$f"
	done
	cp "$lint/../../Makefile" .
	cp "$lint/clang-format" "$lint/cppcheck.suppressions" tests/lint
	for a in base core store; do
		header "$a" >"include/$a/a.h"
		c_file "$a" >"src/$a/a.c"
	done
	header driver | sed 's:driver/a.h:p.h:' >drivers/p.h
	c_file base >drivers/p.c
	echo 'int base_a(int x);' >tests/unit/t.h
	printf '#include "core/a.h"\n\n#include "t.h"\n' >tests/unit/t.c
	printf '#!/bin/sh\necho ok\n' >demo/run.sh
	chmod +x demo/run.sh
}

header()
{
	cat <<END
/* $1/a.h - a header. */
#ifndef A_H_$1
#define A_H_$1

int $1_a(int x);

#endif /* A_H_$1 */
END
}

c_file()
{
	cat <<END
/* a.c - strcpy( and // in a comment, "quoted. */
#include "$1/a.h"

#include <string.h>

int
$1_a(int x)
{
	const char *s = "sprintf(rand()) // \\"time(\\" {";

	if (x == '"')
		return 1;
	return (int)strlen(s) + x;
}
END
}

# caught CHECK PATTERN - the tree as it is must fail CHECK with such a line.
caught()
{
	faults=$((faults + 1))
	if LINT_TOP=$work/t "$lint/$1.sh" >"$work/out" 2>&1; then
		complain "$1.sh passed a tree with: $2"
	elif ! grep -qE "^[^ :]+:[0-9]+: .*$2" "$work/out"; then
		complain "$1.sh failed, but did not say: $2"
	fi
	clean_tree
}

# add FILE LINE... - append lines to a file of the tree.
add()
{
	to=$1
	shift
	printf '%s\n' "$@" >>"$to"
}

# long_body N - a function with N lines in its body.
long_body()
{
	printf 'int long_%s(int x);\n\nint\nlong_%s(int x)\n{\n' "$1" "$1"
	awk -v n="$1" 'BEGIN {
		for (i = 1; i < n; i++)
			print "\tx++;"
		print "\treturn x;"
		print "}"
	}'
}

lines()
{
	awk -v n="$1" 'BEGIN { for (i = 0; i < n; i++) print "/* */" }'
}

faults=0
clean_tree
for check in toplevel words shell layers banned sizes headers format \
    cppcheck; do
	LINT_TOP=$work/t "$lint/$check.sh" >"$work/out" 2>&1 ||
	    complain "$check.sh failed a clean tree: $(head -n 1 "$work/out")"
done
# The limits themselves are allowed.
long_body 60 >>src/core/a.c
add src/core/a.c "/* $(printf '%074d' 0) */"
LINT_TOP=$work/t "$lint/sizes.sh" >"$work/out" 2>&1 ||
    complain "sizes.sh failed a tree at its limits: $(cat "$work/out")"
clean_tree

# --- layers ----------------------------------------------------------------
add src/core/a.c '#include "store/a.h"'
caught layers 'includes store/, not allowed for core'
add src/base/a.c '#include "core/a.h"'
caught layers 'includes core/, not allowed for base'
add include/core/a.h '#include "store/a.h"'
caught layers 'includes store/, not allowed for core'
add drivers/p.c '#include "core/a.h"'
caught layers 'includes core/, not allowed for drivers'
echo '#include "store/a.h"' >src/console/b.c
caught layers 'includes store/, not allowed for console'
add src/core/a.c '#include "../store/a.h"'
caught layers 'leaves the folder'
add tests/unit/t.c '#include "../../src/core/a.h"'
caught layers 'leaves the folder'
header store >src/store/own.h
add src/core/a.c '#include "own.h"'
caught layers 'is not a header of src/core/'
add src/core/a.c '#include "core/sub/a.h"'
caught layers 'is not of the form'
add src/core/a.c '#include "core/none.h"'
caught layers 'is not under include'
mkdir src/extra && c_file base >src/extra/a.c
caught layers 'the area extra is not in'
while read -r header wrong; do
	mkdir -p "$(dirname "$wrong")"
	add "$wrong" "#include <$header>"
	caught layers "<$header> belongs to"
done <<'END'
sqlite3.h src/core/a.c
libusb.h drivers/p.c
zint.h src/labels/layout.c
ft2build.h src/labels/layout.c
png.h drivers/p.c
jansson.h src/store/a.c
sodium.h src/core/a.c
iniparser/iniparser.h src/store/a.c
ncurses.h src/console/b.c
END
add include/store/a.h '#include <sqlite3.h>'
caught layers 'in a public header'
add src/core/a.c '#include <curl/curl.h>'
caught layers '<curl/curl.h> is no listed header'
while read -r call; do
	add src/core/a.c "static long f(void) { return $call(0); }"
	caught layers "$call\\(\\) belongs to src/base/clock.c"
done <<'END'
time
localtime_r
gmtime_r
mktime
clock_gettime
gettimeofday
END

# --- banned ----------------------------------------------------------------
while read -r call; do
	add src/base/a.c "static void f(void) { $call (0); }"
	caught banned "$call\\(\\) is banned"
done <<'END'
strcpy
strcat
sprintf
vsprintf
gets
strtok
atoi
atol
atof
strncpy
strncat
system
popen
alloca
localtime
gmtime
rand
sqlite3_mprintf
END
while read -r call; do
	add src/base/a.c "static void f(void) { $call(0, 0); }"
	caught banned "$call\\(\\) starts another program"
done <<'END'
execl
execlp
execv
execvp
execve
posix_spawn
posix_spawnp
wordexp
dlopen
fork
END
for sql in 'SELECT 1 FROM batch' 'INSERT INTO batch' 'DELETE FROM batch' \
    'UPDATE batch SET open = 0' 'PRAGMA foreign_keys = OFF'; do
	add src/base/a.c "static const char s[] = \"$sql\";"
	caught banned 'SQL outside src/store'
done
add tests/unit/t.c 'static void f(char *p) { strcpy(p, ""); }'
caught banned 'strcpy\(\) is banned'
add src/store/a.c 'static void f(void) { sqlite3_exec(0, 0, 0, 0, 0); }'
caught banned 'sqlite3_exec\(\) belongs to'
while read -r call; do
	add src/core/a.c "static void f(void) { $call(0); }"
	caught banned "$call\\(\\) in core"
done <<'END'
printf
fprintf
puts
END
add src/base/a.c '/* a */ // b'
caught banned '// comment'
for mark in TO:DO FIX:ME XX:X; do
	mark=$(echo "$mark" | tr -d :)
	add src/base/a.c "/* $mark: later */"
	caught banned 'unfinished'
done

# --- sizes -----------------------------------------------------------------
lines 600 >>src/core/a.c
caught sizes 'lines, at most 600'
lines 200 >>include/core/a.h
caught sizes 'lines, at most 200'
long_body 61 >>src/core/a.c
caught sizes 'long_61\(\) has 61 lines, at most 60'
long_body 61 | sed 's/^long_61(int x)$/static int long_61(int x) {/; /^{$/d' \
    >>src/core/a.c
caught sizes 'long_61\(\) has 61 lines, at most 60'
long_body 9 | sed 's/^}/\t}/' >>src/core/a.c
caught sizes 'long_9\(\) has no }'
add src/core/a.c "/* $(printf '%075d' 0) */"
caught sizes '81 columns, at most 80'
add src/core/a.c "$(printf '\t')/* $(printf '%067d' 0) */"
caught sizes '81 columns, at most 80'

# --- the rest --------------------------------------------------------------
add include/core/a.h 'size_t core_size(void);'
caught headers 'does not compile alone'
sed '/^#/d' include/core/a.h >include/core/b.h
add include/core/b.h 'struct twice { int x; };'
caught headers 'does not compile alone.*redefinition'
echo 'int own(size_t n);' >src/store/own.h
caught headers 'does not compile alone'
add src/core/a.c 'int  two_blanks;'
caught format 'clang-format'
add tests/unit/t.c 'int  two_blanks;'
caught format 'clang-format'
add src/core/a.c 'int past(void) { int a[2]; a[2] = 1; return a[0]; }'
caught cppcheck 'arrayIndexOutOfBounds'
echo 'x' >notes.txt
caught toplevel 'does not belong'
rm -r docs
caught toplevel 'missing from the top folder'
for path in /wor:k/main /roo:t/x /tmp/:h/x; do
	add docs/a.md "See $(echo "$path" | tr -d :)."
	caught words 'a path of one machine'
done
add demo/run.sh 'if true; then'
caught shell '(end of file|expecting)'
chmod -x demo/run.sh
caught shell 'not executable'

# Nothing to look at is no pass either.
for check in layers banned sizes headers format cppcheck; do
	rm -rf src include drivers tests
	mkdir -p tests/lint
	cp "$lint/clang-format" "$lint/cppcheck.suppressions" tests/lint
	caught "$check" 'nothing to check'
done

# --- the runner of the command tests ----------------------------------------
"$lint/../cli/run.sh" --self-test >"$work/out" 2>&1 ||
    complain "tests/cli/run.sh --self-test: $(tail -n 1 "$work/out")"

# A loop that ran no case would have proved nothing.
[ "$faults" -ge 75 ] || complain "only $faults faults were shown"
[ $bad -eq 0 ]
