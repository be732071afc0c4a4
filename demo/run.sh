#!/bin/sh
# One whole day of an invented kitchen, in a training station.
#
#   demo/run.sh PROGRAM OUT
#
# Everything runs through the same commands a cook has; what it makes is left
# in OUT.  Run from the top folder.
set -eu

pinbone=$1
out=$2
day=2026-12-04
at=06:30
by=AK
# The story is English, and so are its screens.
export LC_ALL=C.UTF-8 LANGUAGE=

rm -rf "$out"
mkdir -p "$out/screens"

say() {
	printf '\n%s  %s\n' "$at" "$*"
}

# The station at the time of the story.
p() {
	"$pinbone" --config demo/station.ini --db "$out/pinbone.db" \
	    --now "${day}T$at" "$@"
}

# A step whose refusal is part of the story.
refused() {
	if p "$@" 2>"$out/refusal"; then
		echo "demo: this should have been refused: $*" >&2
		exit 1
	fi
	sed 's/^/    /' "$out/refusal"
	rm -f "$out/refusal"
}

# A printer that is not ready: status 5, and what is printed waits.
waits() {
	status=0
	p "$@" >"$out/refusal" 2>&1 || status=$?
	if [ $status -ne 5 ]; then
		echo "demo: status $status, this should have waited: $*" >&2
		exit 1
	fi
	sed 's/^/    /' "$out/refusal"
	rm -f "$out/refusal"
}

# Indented, as part of the story.
shown() {
	"$@" >"$out/answer"
	sed 's/^/    /' "$out/answer"
}

# A screen of the station as it is now; what it shows stays in screens/NAME.txt.
screen() {
	p station --show "$1" >"$out/screens/$2.txt"
}

# Codes of a JSON answer, one a line.
code_of() {
	sed -n 's/.*"code": "\([^"]*\)".*/\1/p' "$1"
}

# Goods in; prints the answer and keeps the batch code in $batch.
take_in() {
	p --json --by "$by" receive "$@" >"$out/answer"
	batch=$(code_of "$out/answer")
	p --by "$by" label print "$batch" >>"$out/answer"
	echo "    batch $batch"
}

# A breakdown with all its labels; codes stay in $made.
break_down() {
	p --json --by "$by" prep "$@" --print >"$out/answer"
	made=$(code_of "$out/answer")
	sed -n 's/.*"unexplained_g": \([0-9]*\).*/    \1 g unexplained/p' \
	    "$out/answer"
	echo "    $(echo "$made" | wc -l) labels: $(echo $made)"
}

say "A new training station, its people, suppliers, menu and bookings."
p init
p --by "$by" people add AK "Ada Kestrel" --chef
p --by "$by" people add LM "Lou Marram"
p import suppliers demo/suppliers.csv
p import menu demo/menu.csv
p import offers demo/offers.csv
p import bookings demo/past-bookings.csv
p import sales demo/past-sales.csv
p import bookings demo/bookings.csv
echo "    the same bookings again:"
p import bookings demo/bookings.csv

at=06:40
say "The printers: one for labels, a roll for lists, one at the pass, still off."
mkfifo "$out/pass-printer"
shown p printer list
shown p printer status main
shown p printer status roll
shown p --by "$by" printer test main
shown p --by "$by" printer test roll

at=07:10
say "Seven lots from two suppliers come in; one is too warm."
take_in --supplier quay --document WQ-5521 --species HKE \
    --presentation gutted --lot H4471 --price 13.80 \
    --fish-weights 2640,2310,2480,1990,2120,2260 --temperature 1.2 --area 27.7.j --method caught \
    --gear "Hooks and lines" --caught 2026-12-02 \
    --supplier-date 2026-12-07 --accept
hake=$batch
take_in --supplier quay --document WQ-5521 --species POK \
    --presentation gutted --count 2 --weight 5.9kg --lot S0932 --price 6.20 \
    --temperature 3.6 --area 27.6.a --method caught --gear Trawls \
    --caught 2026-12-01 --supplier-date 2026-12-05 \
    --note "3.6 C on arrival, more ice on at once"
coley=$batch
echo "      coley at 3.6 C: accepted only with the note, more ice on at once"
take_in --supplier quay --document WQ-5521 --species PLE \
    --presentation gutted --count 30 --weight 13.2kg --lot P1180 \
    --price 8.40 \
    --temperature 0.9 --area 27.7.e --method caught --gear Trawls \
    --caught 2026-12-02 --supplier-date 2026-12-06 --accept
plaice=$batch
take_in --supplier quay --document WQ-5521 --species LEM \
    --presentation gutted --count 12 --weight 5.1kg --lot L2045 \
    --price 15.00 \
    --temperature 1.1 --area 27.7.e --method caught --gear Trawls \
    --caught 2026-12-02 --supplier-date 2026-12-06 --accept
sole=$batch
take_in --supplier isle --document TI-208 --species MUS \
    --presentation live --weight 9kg --lot M77 --temperature 4.5 \
    --area "Far Holm, rope grown" --method farmed \
    --caught 2026-12-03 --accept
mussels=$batch
echo "    trout, its supplier's label scanned, judged by eye and nose"
take_in --supplier isle --document TI-208 \
    --scan '(01)04012345678901(7008)TRR(10)T-88(17)261209(3103)004200' \
    --presentation gutted --count 6 --temperature 0.8 \
    --area "Loch Example, Far Holm" --method farmed --caught 2026-12-03 \
    --mark skin=extra --mark eye=a --mark gills=a --accept
trout=$batch
echo "    a lobster carrying eggs: whatever the note says"
refused --by "$by" receive --supplier isle --document TI-208 \
    --species LBE --presentation live --count 2 --weight 1400 \
    --lot B5 --temperature 5.0 --area 27.7.j --method caught \
    --gear FPO --berried --note "two fine ones"
echo "    mackerel at 8.4 C: accepting it"
refused --by "$by" receive --supplier quay --document WQ-5521 \
    --species MAC --presentation whole --count 14 --weight 5.6kg \
    --lot K3302 --temperature 8.4 --area 27.7.e --method caught \
    --gear "Hooks and lines" --caught 2026-12-02 --accept
p --by "$by" receive --supplier quay --document WQ-5521 \
    --species MAC --presentation whole --count 14 --weight 5.6kg \
    --lot K3302 --temperature 8.4 --area 27.7.e --method caught \
    --gear "Hooks and lines" --caught 2026-12-02 \
    --refuse "8.4 C, no ice left in the box"

at=07:30
say "Hake cut now and kept at 2 C, not in ice: its date, and why."
p useby --state raw --species HKE --caught 2026-12-02 \
    --supplier-date 2026-12-07 --prepared "${day}T08:20" --storage-c 2 |
    sed 's/^/    /'

at=07:40
say "What lunch will ask for, learned from three weeks of services."
p forecast "$day/lunch" | sed -n 's/^/    /; 3,17p'
p forecast --backtest | sed -n 's/^/    /; /^loss/,$p'
echo "    a party of ten asked for curry: the chef types it"
p --by "$by" expect "$day/lunch" --floor coley-curry:12 >"$out/forecast.txt"
sed -n 's/^/    /; /coley-curry/,/share/p' "$out/forecast.txt"

at=07:45
say "The forecast, the stock and the menu make the lists."
for service in lunch dinner; do
	p plan "$day/$service" --prep-list >"$out/prep-list-$service.txt"
	p plan "$day/$service" --order-list >"$out/order-list-$service.txt"
	p --json plan "$day/$service" >"$out/plan-$service.json"
	p --csv plan "$day/$service" >"$out/plan-$service.csv"
done
sed -n 's/^/    /; 1,22p' "$out/prep-list-lunch.txt"
shown p --by "$by" ticket prep "$day/lunch" --print
shown p --by "$by" ticket order "$day/dinner" --print
echo "    ... the rest is in $out/prep-list-lunch.txt"
p plan "$day/lunch" --why >"$out/why-lunch.txt"

say "The same on the station's screens, which \`pinbone\` alone opens: Today."
screen F2 today
screen F4 prep-list
sed 's/^/    /' "$out/screens/today.txt"

at=07:50
say "The cut the plan chose for lunch, beside the one made by eye, and why."
sed -n '/^== CUT/,/^== WORK/{/^== WORK/!s/^/    /p;}' "$out/why-lunch.txt"

at=08:05
say "Hake 1 and 5 are filleted and weighed: planned again with true weights."
p plan "$day/lunch" --prep-list --board "$hake:622,612,501,496" \
    >"$out/prep-list-weighed.txt"
sed -n '/on the board/s/^/    /p' "$out/prep-list-weighed.txt"

at=08:20
say "Breakdown for lunch: hake, coley, plaice."
break_down "$hake" --which 1,5 --weight 4760 --minutes 55 \
    --make hake-beans:14:2230:3 --trim 60 --frames 2040 --waste 400
lunch_hake=$made
break_down "$coley" --fish 2 --weight 5860 --make coley-curry:12:1560:4 \
    --trim 790 --frames 2900 --waste 560
lunch_coley=$made
break_down "$plaice" --fish 4 --weight 2240 --make plaice-crumb:16:800:4 \
    --frames 1140 --waste 290
lunch_plaice=$made
break_down "$mussels" --weight 3kg --make mussel-pot:6:3000:2
lunch_mussels=$made

at=10:30
say "Breakdown for dinner."
break_down "$hake" --which 2,4,6 --weight 6550 \
    --make hake-beans:15:2560:1 --trim 470 --frames 2850 --waste 580
dinner_hake=$made
break_down "$sole" --fish 9 --weight 3830 --make sole-bone:9:3420:3 \
    --waste 370

at=10:40
say "Trout served raw: refused without a freeze record, then with it."
refused --by "$by" prep "$trout" --fish 2 --weight 1400 \
    --make trout-crudo:6:330:6 --trim 380 --frames 500 --waste 150
echo "    the supplier's statement on feed is on file"
break_down "$trout" --fish 2 --weight 1400 --make trout-crudo:6:330:6 \
    --trim 380 --frames 500 --waste 150 --feed-statement "TI feed letter 2026/11"

at=10:50
say "The first tray's label fell into the sink: a marked reprint."
set -- $lunch_hake
p --by "$by" label print "$1" 2>&1 | sed 's/^/    /' || true
p --by "$by" label reprint "$1"

at=13:00
say "Lunch. The newer tray is refused while an older one is there."
set -- $dinner_hake
refused --by LM use "$1"
for c in $lunch_hake $lunch_coley $lunch_mussels; do
	p --by LM use "$c" >/dev/null
done
set -- $lunch_plaice
p --by LM use "$1" >/dev/null
p --by LM use "$2" >/dev/null
p --by LM use "$3" --servings 2 >/dev/null
echo "    hake, coley, mussels and ten of the plaice went out at lunch"
screen F7 service
screen F6 on-hand

at=13:20
say "Six plaice are left over and go into the freezer; the old labels are void."
third=$3 fourth=$4
shown p --by "$by" freeze "$third" "$fourth" --temperature -21
shown p --by "$by" label print "$third" "$fourth"

at=15:00
say "Two of them come out again, thin fillets that thaw in six hours."
shown p --by "$by" thaw "$third" --reason "staff supper after service"
shown p --by "$by" label print "$third"
refused --by "$by" freeze "$third" --temperature -21
set -- $dinner_hake

at=17:20
say "The printer at the pass is off: its label waits, is not lost, comes out once."
waits --by "$by" label reprint "$5" --printer pass --wait 1
p printer queue | sed -n 's/^/    /; 1,4p'
waits printer status pass
screen F10 printing
echo "    and switched on:"
cat "$out/pass-printer" >"$out/pass.zpl" &
reader=$!
shown p --by "$by" printer work --once
wait $reader
rm "$out/pass-printer"

at=18:40
say "Dinner. Two portions of hake go out, then table 9 complains of one."
p --by LM use "$1"
p --by LM use "$2"
complaint=$1
p trace "$complaint" >"$out/trace-portion-$complaint.txt"
sed 's/^/    /' "$out/trace-portion-$complaint.txt"

at=18:41
say "The complaint is taken: the chain as it is now is kept with it, the batch held."
p --by LM complaint add "$complaint" --table 9 --hold \
    --what "hake smells sour; two guests, neither ill" >"$out/complaint.txt"
sed -n 's/^/    /; 1,14p' "$out/complaint.txt"
refused --by LM use "$3"
p trace "$hake" >"$out/trace-batch-$hake.txt"
p --json trace "$hake" >"$out/trace-batch-$hake.json"
sed -n '/^BALANCE/,$p' "$out/trace-batch-$hake.txt" | sed 's/^/    /'
echo "    a label for the box that is still whole:"
shown p --by "$by" label hold "$hake" "$3"
screen F8 trace

at=19:05
say "The supplier calls: lot H4471 is to be pulled.  The list, by place."
shown p --by "$by" recall open --lot H4471 --supplier quay \
    --reason "iced late on board, says the supplier"
shown p --by "$by" recall print 1

at=19:20
say "What is found is scanned; one portion is not where it should be."
shift 2
last=
for c in "$hake" "$@"; do
	[ -z "$last" ] || p --by LM recall tick 1 "$last" >/dev/null
	last=$c
done
p recall show 1 >"$out/recall-missing.txt"
sed -n 's/^/    /; 1,12p' "$out/recall-missing.txt"
refused --by "$by" recall close 1 --outcome discarded
at=19:35
echo "    it was behind the butter:"
shown p --by LM recall tick 1 "$last"

at=21:40
say "Both services are closed: who came and what was sold teaches the forecast."
p --by "$by" close "$day/lunch" --seated 43 --walk-ins 5 \
    --sold hake-beans:14:45 --sold coley-curry:9 --sold plaice-crumb:10 \
    --sold mackerel-beet:0:0 --sold mussel-pot:6:40 >"$out/close.txt"
p --by "$by" close "$day/dinner" --seated 66 --walk-ins 4 \
    --sold hake-beans:2 --sold sole-bone:8 --sold mussel-pot:0:0 \
    --sold trout-crudo:5 --sold crab-toast:0:0 \
    --sold mackerel-beet:0:0 >>"$out/close.txt"
sed 's/^/    /' "$out/close.txt"

at=21:45
say "What the station has learned of hake."
p species HKE | sed -n '/learn/,$p' | sed -n 's/^/    /; 1,12p'

at=21:50
say "The end of the day: the recall is closed, and what is left is counted."
shown p --by "$by" recall close 1 --outcome discarded
p recall show 1 >"$out/recall.txt"
p --by "$by" complaint note 1 --text "supplier confirms late icing of the lot"
p --by "$by" complaint close 1 --text "batch recalled and destroyed"
p complaint show 1 >"$out/complaint.txt"
echo "    the staff's plaice, counted against the record:"
shown p --by "$by" count "$third" --servings 0 \
    --reason "eaten at staff supper, not scanned"
p stock >"$out/stock.txt"
p ticket day "$day" >"$out/day-sheet.txt"
p log --last 500 >"$out/log.txt"
sed 's/^/    /' "$out/stock.txt"
shown p --by "$by" ticket day --print

say "Every label again as the bytes a label printer gets."
p --json stock | code_of /dev/stdin >"$out/codes"
while read -r c; do
	p label preview "$c" --wire zpl --out - >>"$out/labels.zpl"
done <"$out/codes"
p label preview "$complaint" --size 50x25 --dpi 300 \
    --png "$out/labels/small-$complaint.png" >/dev/null
rm -f "$out/answer" "$out/codes"

at=22:00
say "Could it be done again tomorrow?  A recall in play, against the clock."
p --by "$by" drill "$sole" >"$out/drill.txt"
sed 's/^/    /' "$out/drill.txt"
p balance "$day" >"$out/balance.txt"
for what in "frozen never" "dispatched 2026-12-03" "lot-source WQ-landing"; do
	p --by "$by" papers say "$hake" $what >/dev/null
done
p papers "$hake" >"$out/papers.txt"
sed -n 's/^/    /; 1,2p; /: complete/p; /INCOMPLETE/p; /MISSING/p' "$out/papers.txt"

say "What the law asks for as a table, and the day as EPCIS 2.0 for others."
mkdir -p "$out/exports" "$out/stick"
for kind in receiving chain epcis; do
	p export $kind "$day" "$out/exports" >/dev/null
done
table="$out/exports/pinbone-receiving-$day.csv"
events="$out/exports/pinbone-epcis-$day.jsonld"
echo "    $(($(wc -l <"$table") - 1)) batches received," \
    "$(grep -c '"type":"ObjectEvent"' "$events") ObjectEvents," \
    "$(grep -c '"type":"TransformationEvent"' "$events") TransformationEvents"
shown p export --check "$table"

say "The record is whole and unchanged, as the code on the day sheet's paper says."
paper=$(sed -n '/== Audit trail/{n;p;}' "$out/day-sheet.txt")
shown p verify --paper "$paper"
shown p --by "$by" backup "$out/stick"
echo "    the same of the copy, and what going back to it would lose:"
shown p verify "$out/stick"/pinbone-*.db
at=22:05
p --by "$by" discard "$mussels" --reason "open, do not close when tapped" \
    >/dev/null
refused --by "$by" restore "$out/stick"/pinbone-*.db

cat <<EOT

What it left in $out:
  prep-list-*.txt order-list-*.txt   what lunch and dinner needed
  why-lunch.txt                      the same with every reason
  prep-list-weighed.txt              planned again, fillets on the scale
  plan-*.json plan-*.csv             the same for programs
  close.txt                          what was sold beside what was forecast
  screens/*.txt                      five screens of the station, as they were then
  labels/*.png                       $(ls "$out/labels" | wc -l) labels as they print
  lists/*.png                        prep, order and recall list, day sheet on a roll
  labels.zpl pass.zpl                the stream for a label printer
  trace-*.txt                        the complaint, back and forward
  stock.txt log.txt day-sheet.txt    the end of the day
  complaint.txt recall*.txt          the complaint kept, the goods pulled
  drill.txt balance.txt papers.txt   what an inspector may ask for
  stick/                             the backup
  exports/*.csv exports/*.jsonld     what came in, what happened, EPCIS 2.0
  pinbone.db                         the station file

Look further (from this folder):
  alias pb='$pinbone --config demo/station.ini --db $out/pinbone.db --now ${day}T22:00'
  pb                  the station's screens: F1 tells the keys, Ctrl-Q leaves
  pb lesson           a new cook's first ten minutes, in a station of its own
  pb stock
  pb trace $complaint
  pb trace $hake
  pb --json plan 2026-12-04/dinner
  pb printer queue
  pb log
EOT
