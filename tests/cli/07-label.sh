# Labels: previews, one first print, marked reprints, a printer that fails.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen
take_in COD whole 4 3200 -
cod=$batch
does --json prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:2:272
one=$(all code | sed -n 1p)
two=$(all code | sed -n 2p)

# --- previews: they record nothing -----------------------------------------

# png_size FILE - width x height out of the header (PNG, W3C, 11.2.2).
png_size()
{
	od -An -tu1 -j16 -N8 "$1" |
	    awk '{ print $3 * 256 + $4 "x" $7 * 256 + $8 }'
}

mark
# mm x dpi / 25.4, cut to whole dots: never beyond the label's edge.
for want in 60x40:203:479x319 60x40:300:708x472 50x25:203:399x199 \
    50x25:300:590x295; do
	size=${want%%:*}
	dots=${want##*:}
	dpi=${want#*:}
	dpi=${dpi%:*}
	for c in $one $cod; do
		does label preview "$c" --png p.png --size $size --dpi $dpi
		expect_out "p.png: $(wc -c <p.png) bytes"
		expect_is "$(od -An -tx1 -N8 p.png)" ' 89 50 4e 47 0d 0a 1a 0a'
		expect_is "$(png_size p.png)" "$dots"
	done
done
does label preview "$one" --wire zpl --out l.zpl
expect_is "$(grep -c '\^XA' l.zpl)" 1
expect_is "$(head -c 3 l.zpl)" '~SD'
expect_is "$(tail -n 1 l.zpl)" '^XZ'
grep -qxF '^PW479' l.zpl && grep -qxF '^LL319' l.zpl ||
    fail 'not a label of 479 x 319 dots'
pass
does label preview "$one" --wire zpl --out -
cmp -s out l.zpl || fail 'standard output differs from the file'
pass
does label preview "$one" --wire png --out p2.png --size 50x25 --dpi 300
does label preview "$one" --png p.png --size 50x25 --dpi 300
cmp -s p.png p2.png || fail 'the same label twice differs'
pass
does label preview "$two" --png p2.png --size 50x25 --dpi 300
! cmp -s p.png p2.png || fail 'two portions have the same label'
pass
expect_unchanged
refuses 2 'label size "70x40" is not known: 60x40 or 50x25$' \
    label preview "$one" --png p.png --size 70x40
refuses 2 '"?esc"?.* is not known' label preview "$one" --wire esc --out x
refuses 2 '--dpi 150 is outside|--dpi "150"' \
    label preview "$one" --png p.png --dpi 150
refuses 2 'preview takes --png FILE, or' label preview "$one"
refuses 2 'preview takes --png FILE, or' label preview "$one" --wire zpl
refuses 2 'preview takes --png FILE, or' \
    label preview "$one" --png p.png --wire zpl --out x
refuses 2 'preview takes one code at a time' \
    label preview "$one" "$two" --png p.png
refuses 1 '^pinbone: missing/p\.png: No such file or directory$' \
    label preview "$one" --png missing/p.png
expect_file l.zpl
refuses 4 . label preview "$(no_portion)" --png x.png
expect_no_file x.png

# --- print once, then marked reprints --------------------------------------

does label print "$one" --by AK
echo "$one: label sent to preview:labels" | expect_out_is
expect_file "labels/portion-$one.png"
refuses 3 "^pinbone: $one has a label already: print it once more, marked" \
    label print "$one" --by AK
refuses 3 "^pinbone: $two was never printed: use pinbone label print\$" \
    label reprint "$two" --by AK
does label reprint "$one" --by LM
echo "$one: label sent, reprint 1 to preview:labels" | expect_out_is
does --json label reprint "$one" --by LM
expect_out '"copy": 2,'
expect_file "labels/portion-$one-reprint-1.png"
expect_file "labels/portion-$one-reprint-2.png"
# A reprint looks different: from the first print and from the one before.
for n in '' -reprint-1; do
	! cmp -s "labels/portion-$one$n.png" "labels/portion-$one-reprint-2.png" ||
	    fail 'a reprint carries no mark'
done
pass
does trace "$one"
expect_out 'sent, by AK'
expect_out 'use-by, reprint 1, sent, by LM'
expect_out 'use-by, reprint 2, sent, by LM'
refuses 2 '^pinbone: --by is missing' label print "$two"
refuses 2 'label takes preview, print, reprint or hold, not "shred"' \
    label shred "$two"
p label print
expect_status 64
expect_one_line_err
# Several codes in one go; the first that fails ends it and is named.
take_in PLE whole 2 1200 -
does label print --by AK "$two" "$batch"
expect_out "$two: label sent"
expect_out "$batch: label sent"
refuses 4 . label print --by AK "$(no_portion)"
refuses 4 . label print --by AK "$(no_batch)"
refuses 2 'check character' label print --by AK 26330-01A

# --- a label for what may not be served ------------------------------------

take_in COD whole 1 800 -
does --json prep "$batch" --by AK --fish 1 --weight 800 \
    --make cod-side:2:272:2 --waste 300
tray=$(all code)
does use "$tray" --by AK --reason test
refuses 3 "portion $tray is used up: it gets no label" \
    label print "$tray" --by AK
take_in COD whole 1 800 2026-11-26
old=$batch
day=2026-11-27
refuses 3 "^pinbone: $old has expired: it gets no label, discard it\$" \
    label print "$old" --by AK
day=2026-11-26

# --- settings the printer does not know ------------------------------------

take_in HAD whole 3 2100 -
had=$batch
settings 'language = xyz'
p label print "$had" --by AK
expect_status 2
expect_one_line_err
expect_err '\[printer\] language = xyz: not known, there are:.* zpl'
p stock
settings 'address = telex:7'
p label print "$had" --by AK
expect_status 2
expect_one_line_err
expect_err '\[printer\] address = telex:7: must begin with one of:.* file:'
settings 'address = file:'
p label print "$had" --by AK
expect_status 2
expect_one_line_err
settings 'font = none.ttf'
p label print "$had" --by AK
[ "$status" -ne 0 ] || fail 'printed without a font'
expect_one_line_err
expect_err 'none\.ttf'

# --- a printer that is not ready: the label waits in the queue --------------

settings 'language = zpl' 'address = file:missing/labels.zpl'
p label print "$had" --by AK --wait 0
expect_status 5
expect_one_line_err
expect_err "^pinbone: the label of $had is not printed, printer main: \
missing/labels\.zpl: No such file or directory; it stays in the queue"
echo "$had: label queued to file:missing/labels.zpl" | expect_out_is
does trace "$had"
expect_out 'queued, by AK: missing/labels.zpl: No such file or directory'
settings 'language = zpl' 'address = file:/dev/full'
p label print "$had" --by AK --wait 0
expect_status 5
expect_one_line_err
expect_err 'not printed, printer main: /dev/full: No space left on device; it '
# A pipe that nobody reads: not ready, try again; and no longer than told.
mkfifo pipe
settings 'language = zpl' 'address = file:pipe'
p label print "$had" --by AK --wait 1
expect_status 5
expect_one_line_err
expect_err 'not printed, printer main: pipe: '
does trace "$had"
expect_no_out ' sent'
# All that was one label, asked for four times; it comes out once, unmarked.
settings 'language = zpl' 'address = file:labels.zpl'
does label print "$had" --by AK
echo "$had: label sent to file:labels.zpl" | expect_out_is
expect_is "$(grep -c '\^XZ' labels.zpl)" 1
does trace "$had"
expect_is "$(grep -c ' label  ' out)" 1

# Half a label: the disk behind the file fills up on the way.
does --json prep "$cod" --by AK --fish 1 --weight 800 --make cod-side:1:136 \
    --yield-ok
half=$(all code)
settings 'language = zpl' 'address = file:half.zpl'
head -c 2092152 /dev/zero >half.zpl # 5000 bytes below the limit
status=0
(
	trap '' XFSZ
	ulimit -f 4096
	"$PINBONE" --config station.ini --db k.db --now "${day}T$at" \
	    label print "$half" --by AK >out 2>errf
) || status=$?
ran='label print on a file that fills up'
expect_status 1
expect_one_line_err
expect_err "^pinbone: the label of $half may be half printed: half\.zpl: File \
too large: look for it, then pinbone printer answer $half yes"
does trace "$half"
expect_out ', unsure, by AK: half.zpl: File too large'
# It may have come out, so another one is a reprint and says so.
settings
refuses 3 "^pinbone: $half has a label already" label print "$half" --by AK
does label reprint "$half" --by AK
expect_out 'reprint 1'

# --- prep --print ----------------------------------------------------------

settings
take_in COD whole 2 1600 -
does --json prep "$batch" --by AK --fish 1 --weight 800 --make cod-side:2:272 \
    --print
expect_is "$(all code | wc -l)" 2
for c in $(all code); do
	expect_file "labels/portion-$c.png"
done
# The breakdown stands though the printer does not: it happened.
settings 'language = zpl' 'address = file:missing/labels.zpl'
p --json prep "$batch" --by AK --fish 1 --weight 800 --make cod-side:2:272 \
    --print --wait 0
expect_status 5
expect_one_line_err
expect_err '^pinbone: the breakdown is recorded, but of 2 labels only 0 were '
made=$("$PINBONE" --config station.ini --db k.db --now "${day}T$at" \
    --csv trace "$batch" | sed -n 's|^\(...-...\),.*|\1|p' | tail -n 2)
settings
does --json trace "$batch"
expect_is "$(all in_g | wc -l)" 2
for c in $made; do
	does label print "$c" --by AK
done
expect_file "labels/portion-$c.png"

# A language nobody knows is found before a label is queued: nothing is on its
# way, and nobody is sent to look for it.
take_in HAD whole 3 2100 -
settings 'language = xyz'
p label print "$batch" --by AK
expect_status 2
does stock

# A named pipe or device given for --out is written to, never replaced by a
# file of its name (renaming over it would do that, as root to a device too).
mkfifo out.pipe
timeout 2 cat out.pipe >got &
p label preview "$one" --wire zpl --out out.pipe
[ -p out.pipe ] || fail 'the pipe was replaced by a file'
wait || true
[ "$status" -ne 0 ] || cmp -s got l.zpl || fail 'the pipe did not get it all'
pass
