# The README's commands, run as they are written.
. "$TOP/tests/cli/lib.sh"

mkdir -p build/release
ln -s "$PINBONE" build/release/pinbone
cp -r "$TOP/demo" "$TOP/config" .
rm -rf demo/out

awk '/^```sh$/ { on = 1; next } /^```$/ { on = 0 } on' "$TOP/README.md" >tour.sh
expect_file tour.sh
status=0
sh -e tour.sh >out 2>errf || status=$?
expect_status 0
expect_no_err
expect_out 'batch 26338-011  Hake, gutted, 6 fish, 13.800 kg'
expect_out '000-06K  Roast hake, white beans, 3 portions'
expect_out 'used 000-01U, Roast hake, white beans: 1 left'
expect_out 'supplier     Wren Quay Fish, 3 Ropewalk, Easter Haven'
expect_out ' On hand   TRAINING, NOT FOR SERVICE'
expect_file build/tour/label.png
expect_file demo/out/labels/portion-000-05M.png

# The table has every command.
run help words
cut -f 1 out | sed 1d | while IFS= read -r c; do
	grep -qE "^\\|.*\`$c[ \`]" "$TOP/README.md" || echo "$c"
done >lacking
[ ! -s lacking ] || fail "README lacks: $(tr '\n' ' ' <lacking)"
pass
