#!/bin/sh
# The same label as bench_label.c makes, by the pipeline a handy person would
# script: the zint command for the symbol, ImageMagick for the rest, od for the
# printer's hexadecimal.  Compared with, never used.
#
# usage: handy.sh COUNT >labels.zpl
set -eu
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
bold=/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf
mono=/usr/share/fonts/truetype/dejavu/DejaVuSansMono-Bold.ttf
n=0
while [ "$n" -lt "$1" ]; do
	zint -b 71 --gs1 --square --scale=2 --quietzones -o "$work/code.png" \
	    -d "[91]100001U2633801126120523$((10 + n % 50))X"
	convert -size 480x320 xc:white +antialias -fill black \
	    -font "$bold" -pointsize 36 -annotate +12+44 \
	    'Roast hake, white beans' \
	    -pointsize 20 -annotate +12+70 'Hake (Merluccius merluccius)' \
	    -draw 'rectangle 12,80 467,116' -fill white -pointsize 30 \
	    -annotate +16+110 'USE BY  SATURDAY' -fill black \
	    -pointsize 54 -annotate +12+166 '5 DECEMBER' \
	    -pointsize 22 -annotate +12+192 'Contains: Fish; milk' \
	    -pointsize 20 \
	    -annotate +12+216 'Prepared Wed 2 Dec 08:00 by AK' \
	    -annotate +12+240 "$((n % 9 + 2)) portions, 960 g" \
	    -annotate +12+264 'Keep at 0 to 2 C' \
	    -annotate +12+288 'Caught, 27.7.j, trawls' \
	    -font "$mono" -annotate +12+312 '000-01U 26338-011' \
	    "$work/code.png" -gravity southeast -geometry +12+12 -composite \
	    -threshold 50% -depth 1 gray:"$work/label.raw"
	printf '^XA^PW480^LL320^FO0,0^GFA,19200,19200,60,'
	# gray: has 1 for white, the printer 1 for black.
	od -An -v -tx1 "$work/label.raw" | tr -d ' \n' |
	    tr '0123456789abcdef' 'FEDCBA9876543210'
	printf '^FS^PQ1^XZ\n'
	n=$((n + 1))
done
