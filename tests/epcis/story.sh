# story.sh - a kitchen to which everything happens that can leave it as an
# event; sourced behind tests/cli/lib.sh and kitchen.sh, in an empty folder.
# Leaves the codes in variables, and the record open at $day, $at.

# Everything that a spreadsheet, CSV, JSON or a URI could stumble over.  Lot and
# document stand in URIs, the reason in JSON, all of them in CSV.
odd_lot='=L,"1"+½'
odd_document='N/1 #2?ä'
odd_reason='-1+cmd|"x" \ <é> 魚'

story()
{
	kitchen "$@"
	cat >more.csv <<'END'
code,name,address,approval,contact
o-neill,"'s Hand, O'Neill & Söhne","=1+1, ""The Slip"", Quay",XX 1002,-7
END
	does import suppliers more.csv
	take_in COD whole 8 6400 2026-12-02 --gear Trawls --vessel 'Mary =Ann' \
	    --caught 2026-11-24 --dispatched 2026-11-25
	cod=$batch
	at=09:05
	does --json receive --by AK --supplier o-neill \
	    --document "$odd_document" --species PLE --presentation gutted \
	    --count 4 --weight 2000 --lot "$odd_lot" --temperature -0.5 \
	    --area 27.4.b --method caught --note "$odd_reason"
	ple=$(get code)
	at=09:10
	take_in MUS live - 5000 - --refuse 'shells open, smell'
	refused=$batch
	take_in HAD whole 2 1500 -
	struck=$batch
	at=09:15
	does undo --yes --by AK --reason 'taken in twice'

	at=09:30 # a tray of two, and its fish's trim, frames and waste
	does --json prep "$cod" --by AK --fish 1 --weight 800 \
	    --make cod-side:2:272:2 --trim 100 --frames 250 --waste 150
	tray=$(get code)
	at=09:40 # four single ones
	does --json prep "$cod" --by AK --fish 2 --weight 1600 \
	    --make cod-side:4:560 --waste 1000
	used=$(all code | sed -n 1p)
	binned=$(all code | sed -n 2p)
	lost=$(all code | sed -n 3p)
	back=$(all code | sed -n 4p)
	at=09:50 # nothing but trim
	does prep "$ple" --by AK --fish 1 --weight 500 --trim 300 --waste 200
	at=10:00 # one that never happened
	does --json prep "$ple" --by AK --fish 1 --weight 500 \
	    --make plaice-crumb:4:200:2 --waste 300
	unmade=$(get code)
	at=10:05
	does undo --yes --by AK --reason 'wrong fish'

	at=10:10
	does freeze "$tray" --by AK --temperature -20.5 --reason 'quiet night'
	at=11:00
	does hold "$binned" --by AK --reason "$odd_reason"
	at=11:05
	does hold "$ple" --by AK --reason 'supplier rang'
	at=11:30
	does release "$ple" --by AK --reason 'another lot was meant'
	at=12:10
	does use "$used" --by LM --service 2026-11-27/lunch
	at=12:15
	does use "$back" --by LM
	at=12:20
	does undo --yes --by LM --reason 'wrong tray'
	at=15:00
	does discard "$binned" --by AK --reason "$odd_reason"
	at=15:05
	does discard "$ple" --by AK --fish 1 --weight 400 --reason 'dropped'
	at=15:10
	does count "$lost" --by AK --servings 0 --reason 'not on the shelf'
	at=15:20
	does count "$lost" --by AK --servings 1 --reason 'behind the ice'
	day=2026-11-28
	at=09:00
	does thaw "$tray" --by AK
	at=19:00 # of two servings one, then the other
	does use "$tray" --by LM --servings 1
	at=19:30
	does use "$tray" --by LM --servings 1
}

# more - two batches on one board, trays put together, a breakdown on hold, a
# recall; on the day after the story.
more()
{
	day=2026-11-29
	at=09:00
	take_in COD whole 6 4800 2026-12-04
	new=$batch
	take_in COD whole 6 4800 2026-12-04
	other=$batch
	at=09:30
	does --json prep "$new" --by AK --fish 1 --weight 800 \
	    --make cod-side:2:280 --trim 100 --waste 420
	first=$(all code | sed -n 1p)
	second=$(all code | sed -n 2p)
	at=09:40 # of both batches
	does --json prep "$new" --by AK --fish 1 --weight 800 \
	    --with "$other:1:700" \
	    --make cod-side:4:560:2 --waste 900
	third=$(all code | sed -n 1p)
	fourth=$(all code | sed -n 2p)
	at=10:00
	does --json combine "$first" "$second" "$third" --by AK
	joined=$(get code)
	at=10:10 # and a tray that never was
	does --json combine "$joined" "$fourth" --by AK
	apart=$(get code)
	at=10:15
	does undo --yes --by AK --reason 'two dates'
	at=11:00
	does hold "$fourth" --breakdown --by AK --reason 'a knife was chipped'
	at=11:30
	does release "$fourth" --breakdown --by AK --reason 'the chip was found'
	at=12:00
	does recall open "$other" --by AK --reason 'the supplier rang'
}

# documents FOLDER - every kind of document there is of such a kitchen.
documents()
{
	to=$1
	story
	more
	mkdir out.d
	for what in all 2026-11-26 2026-11-26..2026-11-28 2026-11-29 2026-11-30 \
	    "$cod" "$tray" "$ple" "$refused" "$struck" "$new" "$other" \
	    "$joined"; do
		does export epcis "$what" out.d --replace
		cp out.d/*.jsonld "$to/station-$(echo "$what" | tr -d .).jsonld"
		rm out.d/*
	done
	settings 'base = https://kitchen.example/id/'
	does export epcis all out.d
	cp out.d/*.jsonld "$to/own-base.jsonld"
	settings 'gs1_prefix = 9521234' # a prefix GS1 keeps for examples
	does export epcis all out.d --replace
	cp out.d/*.jsonld "$to/gs1-prefix.jsonld"
	settings 'timezone = America/St_Johns'
	does export epcis all out.d --replace
	cp out.d/*.jsonld "$to/another-zone.jsonld"
}
