# make install into a folder: every file, its mode, and what reads it: manual
# pages, completion, service, user.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"

build=$(dirname "$PINBONE")
root=$PWD/root
make_it()
{
	make -s -C "$TOP" MODE="$(basename "$build")" PREFIX=/usr \
	    DESTDIR="$root" "$@" >made 2>&1 || {
		cat made
		fail "make $* did not work"
	}
}
make_it install

# --- every file ------------------------------------------------------------

{
	for f in "$TOP"/config/*.csv "$TOP"/config/rules/*.ini; do
		echo "644 share/pinbone/${f#"$TOP"/config/}"
	done
	for f in "$TOP"/src/screens/po/*.po; do
		[ ! -f "$f" ] || echo "644 share/locale/$(basename "$f" \
		    .po)/LC_MESSAGES/pinbone.mo"
	done
	cat <<'END'
755 bin/pinbone
644 lib/systemd/system/pinbone.service
644 lib/sysusers.d/pinbone.conf
644 lib/tmpfiles.d/pinbone.conf
644 lib/udev/rules.d/70-pinbone.rules
644 share/bash-completion/completions/pinbone
644 share/man/man1/pinbone.1
644 share/man/man5/pinbone-settings.5
644 share/pinbone/station.ini
END
} | sort >wanted
(cd "$root/usr" && find . -type f -printf '%m %P\n' | sort) >found
diff wanted found || fail 'other files than wanted (<), or other modes'
pass

run help words
cut -f 1 out | sed 1d >commands
[ "$(grep -c '' commands)" -gt 25 ] || fail 'hardly any command'
pass
"$root/usr/bin/pinbone" help words | cmp -s - out || fail 'another program'
pass

# --- settings --------------------------------------------------------------

run config sample
expect_is "$(diff out "$root/usr/share/pinbone/station.ini" | tail -n 1)" \
    '> data_folder = /usr/share/pinbone'
# The tables are whole where they were put.
sed "s|^data_folder = |&$root|" "$root/usr/share/pinbone/station.ini" \
    >station.ini
run --config station.ini config check
expect_status 0
expect_no_err
cp station.ini bare.ini

# --- manual pages ----------------------------------------------------------

man1=$root/usr/share/man/man1/pinbone.1
man5=$root/usr/share/man/man5/pinbone-settings.5
# The pages name every command and every key, and no other.
sed -n '/^\.SH COMMANDS/,/^\.SH OPTIONS/s/^\.SS "\([a-z]*\).*/\1/p' "$man1" |
    cmp - commands || fail 'the page has other commands'
pass
run config sample
sed -n 's/^\([a-z0-9_]*\) = .*/\1/p' out >keys
[ "$(grep -c '' keys)" -gt 40 ] || fail 'hardly any key'
sed -n 's/^\.BR \([a-z0-9_]*\) " = .*/\1/p' "$man5" | cmp - keys ||
    fail 'the page has other keys'
pass
grep -q '@[A-Z]*@' "$man1" "$man5" && fail 'a place was not filled in'
if has mandoc; then
	mandoc -T lint -W warning "$man1" "$man5" >lint 2>&1 || true
	[ ! -s lint ] || { cat lint; fail 'mandoc has warnings'; }
	pass
	# Options and blanks inside words come out as they are typed.
	mandoc -T ascii "$man1" | sed 's/.\x08//g' >page
	grep -q -- '--supplier CODE' page || fail 'an option is spoilt'
	grep -q 'stock|day|trace' page || fail 'operands are spoilt'
	pass
fi
if has man && has groff; then
	for page in "$man1" "$man5"; do
		LC_ALL=C.UTF-8 MANROFFSEQ='' MANWIDTH=80 man --warnings -E UTF-8 -l -Tutf8 -Z \
		    "$page" 2>lint >/dev/null || true
		[ ! -s lint ] || { cat lint; fail 'man has warnings'; }
		pass
	done
fi

# --- completion ------------------------------------------------------------

# complete LINE... - what bash offers for the last word of it.
complete_it()
{
	PATH=$root/usr/bin:$PATH bash --norc -c '
		. "$0" || exit 1
		COMP_WORDS=("$@")
		COMP_CWORD=$(($# - 1))
		_pinbone
		printf "%s\n" "${COMPREPLY[@]}"' \
	    "$root/usr/share/bash-completion/completions/pinbone" "$@" | sort
}
if has bash; then
	complete_it pinbone '' >offered
	sort commands | cmp - offered || fail 'other commands are offered'
	pass
	run help words
	cp out words
	common=$(sed -n '1s/^		//p' words)
	tail -n +2 words | while IFS= read -r line; do
		name=$(echo "$line" | cut -f 1)
		for w in $common $(echo "$line" | cut -f 3); do
			echo "${w%%=*}"
		done | sort -u >wanted
		complete_it pinbone --json "$name" -- | sort -u | cmp - wanted ||
		    exit 1
		echo "$line" | cut -f 2 | tr ' ' '\n' | sed '/^$/d' | sort \
		    >wanted
		mkdir -p empty
		(cd empty && complete_it pinbone --db x "$name" '') |
		    sed '/^$/d' | cmp - wanted || exit 1
	done || fail 'an option or word is not offered'
	pass
	expect_is "$(complete_it pinbone tr)" trace
	expect_is "$(complete_it pinbone export tr)" trace
	expect_is "$(complete_it pinbone --db bare.)" bare.ini
	expect_is "$(complete_it pinbone --config station.ini label prev)" \
	    preview
	expect_is "$(complete_it pinbone trace --log)" ''
fi

# --- service and user ------------------------------------------------------

unit=$root/usr/lib/systemd/system/pinbone.service
grep -q '@' "$unit" && grep '@[A-Z]*@' "$unit" && fail 'a place was not filled in'
grep -q '^ExecStart=/usr/bin/pinbone --config /etc/pinbone/station.ini' \
    "$unit" || fail 'another program is started'
pass
if has systemd-analyze; then
	sed "s|/usr/bin/pinbone|$root/usr/bin/pinbone|" "$unit" \
	    >pinbone.service
	systemd-analyze verify --man=no ./pinbone.service >verify 2>&1 || true
	grep -F pinbone.service verify && fail 'systemd finds fault with the unit'
	pass
	systemd-analyze security --offline=yes --threshold=15 \
	    --no-pager ./pinbone.service >security 2>&1 ||
	    { tail -n 5 security; fail 'the unit is less closed than it was'; }
	grep -q 'Overall exposure level for pinbone.service' security ||
	    fail 'it was not judged'
	pass
fi
if has systemd-sysusers && [ "$(id -u)" = 0 ]; then
	mkdir -p "$root/etc"
	systemd-sysusers --root="$root" \
	    "$root/usr/lib/sysusers.d/pinbone.conf" >users 2>&1 ||
	    { cat users; fail 'the user cannot be made'; }
	expect_is "$(sed -n 's/^pinbone:[^:]*:[0-9]*:[0-9]*:.*:\(.*:.*\)/\1/p' \
	    "$root/etc/passwd")" /var/lib/pinbone:/usr/sbin/nologin
	grep -q '^lp:.*pinbone' "$root/etc/group" || fail 'not in group lp'
	pass
	systemd-tmpfiles --root="$root" --create --prefix=/var/lib/pinbone \
	    "$root/usr/lib/tmpfiles.d/pinbone.conf" >users 2>&1 ||
	    { cat users; fail 'its folder cannot be made'; }
	expect_is "$(stat -c %a "$root/var/lib/pinbone")" 750
	rm -r "$root/etc" "$root/var"
fi

# --- and away again --------------------------------------------------------

mkdir -p "$root/etc/pinbone"
cp station.ini "$root/etc/pinbone/station.ini"
make_it uninstall
expect_is "$(cd "$root" && find . -type f)" ./etc/pinbone/station.ini
