# The catalogue is that of the table of messages, and French lacks nothing.
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
