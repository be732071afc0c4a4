# The catalogue is that of the table of messages, French lacks nothing, and no
# message waits for a use.
. "$TOP/tests/cli/lib.sh"

po=$TOP/src/screens/po
make -s -C "$TOP" messages POT="$PWD/new.pot" PO= >log 2>&1 || fail "$(cat log)"
grep -v '^"POT-Creation-Date' "$po/pinbone.pot" >kept
grep -v '^"POT-Creation-Date' new.pot >new
cmp -s kept new || fail 'the catalogue is older than the messages: make messages'
pass 'catalogue up to date'
msgfmt --check --statistics -o /dev/null "$po/fr.po" 2>said
case $(cat said) in
*fuzzy* | *untranslated*) fail "French: $(cat said)" ;;
esac
pass 'French is complete'

# Each name is used beside its own line; one in another message's is used too.
cat "$TOP"/src/*/*.c "$TOP"/src/*/*.h | grep -oE 'SAY_[A-Z0-9_]+' | sort |
    uniq -c | awk '$1 == 1 { print $2 }' >once
sed -n 's/^#define \(SAY_[A-Z0-9_]*\).*/\1/p' "$TOP"/src/*/says_*.h |
    sort >names
[ "$(grep -c '' names)" -gt 500 ] || fail 'hardly a message'
comm -12 names once >unused
[ ! -s unused ] || fail "messages nobody uses: $(tr '\n' ' ' <unused)"
pass 'every message is used'
