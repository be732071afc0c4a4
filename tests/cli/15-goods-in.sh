# Goods in: what is looked at, what the papers say, and the supplier's label.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen
gs=$(printf '\035')

cod='receive --by AK --supplier gannet --document N-7 --species COD
--presentation gutted --count 4 --weight 9600 --lot L-7 --temperature 1.5
--area 27.7.e --method caught'
lobster='receive --by AK --supplier gannet --document N-7 --species LBE
--presentation live --weight 2400 --lot L-7 --temperature 4
--area 27.7.e --method caught'
crab='receive --by AK --supplier gannet --document N-7 --species CRE
--presentation live --weight 2400 --lot L-7 --temperature 4
--area 27.7.e --method caught'
# What a label does not say.
rest='receive --by AK --supplier gannet --document N-7 --presentation gutted
--temperature 1.5 --method caught'

# doing WORDS ARGS..., not STATUS REGEX WORDS ARGS... - WORDS is split.
doing()
{
	words=$1
	shift
	# shellcheck disable=SC2086
	does $words "$@"
}

not()
{
	st=$1
	re=$2
	words=$3
	shift 3
	# shellcheck disable=SC2086
	refuses "$st" "^pinbone: $re" $words "$@"
}

# traced WORDS ARGS... - the same, then the batch as trace gives it.
traced()
{
	words=$1
	shift
	doing "--json $words" "$@"
	batch=$(get code)
	does --json trace "$batch"
}

# --mark.  Grades and attributes: Reg. (EC) No 2406/96 Annex I, whitefish; the
# eye that is hollow in the middle with a grey pupil is its "not admitted".
not 3 'refusal proposed: eye ".*--refuse REASON, or say why not with --note' \
    "$cod" --mark eye=not-admitted --mark gills=a --accept
not 3 'refusal proposed: eye' "$cod" --mark gills=a --mark EYE=NOT-ADMITTED \
    --accept
traced "$cod" --mark eye=not-admitted --mark gills=a --note 'head for stock'
expect_is "$(get grade)" not-admitted
expect_is "$(get decision)" noted
expect_is "$(get note)" 'head for stock'
expect_is "$(get refusal_proposed)" true
# Only two of the attributes were looked at.
expect_is "$(get complete)" false
expect_out '    "judgement": {
      "marks": {
        "eye": "not-admitted",
        "gills": "a"
      },
      "grade": "not-admitted",'
doing "$cod" --mark eye=not-admitted --refuse 'eyes sunken'
expect_out ': eyes sunken'

# The worst attribute decides (docs/goods-in.md R-GF1).
traced "$cod" --mark eye=extra --mark gills=b --mark flesh=a --accept
expect_is "$(get grade)" b
expect_is "$(get refusal_proposed)" false
traced "$cod" --mark skin=extra --mark mucus=extra --mark eye=extra \
    --mark gills=extra --mark 'belly lining=extra' --mark smell=extra \
    --mark flesh=extra --mark damage=extra --accept
expect_is "$(get grade)" extra
expect_is "$(get complete)" true
traced "$cod" --accept
expect_is "$(get grade)" ''
expect_out '      "marks": {},'

not 2 '.*"wing" is not judged on this fish; these are: .*eye' "$cod" \
    --mark wing=a --accept
not 2 '.*"" is not judged on this fish' "$cod" --mark =a --accept
not 2 '.*grade "c" is not one of extra, a, b, not-admitted$' "$cod" \
    --mark eye=c --accept
not 2 '.*grade "" is not one of' "$cod" --mark eye= --accept
not 2 '--mark "eye": write ATTRIBUTE=GRADE' "$cod" --mark eye --accept
not 2 '--mark "": write ATTRIBUTE=GRADE' "$cod" --mark '' --accept
not 2 '.*eye is marked twice' "$cod" --mark eye=a --mark eye=a --accept
not 2 '.*eye is marked twice' "$cod" --mark eye=a --mark eye=not-admitted \
    --note x
not 2 'more than [0-9]+ --mark$' \
    "$cod $(printf -- '--mark eye=a %.0s' $(seq 40))" --accept
# A wrong mark is wrong whatever is decided.
not 2 '.*"wing"' "$cod" --mark wing=a --refuse x
# No eyes on a fillet; no table for lobster.
not 2 '.*"eye" is not judged on this fish' "$cod" --presentation fillet \
    --mark eye=a --accept
not 2 '.*no freshness table for' "$lobster" --mark eye=a --accept

# --size.  Cod 35 cm in area 7: Reg. (EU) 2019/1241 Annex VI Part A; lobster
# 87 mm of carapace there: the same.
not 3 '349 mm is under the minimum of 350 \(.*2019/1241.*--note TEXT$' \
    "$cod" --size 349 --accept
traced "$cod" --size 349 --note 'one short fish set aside'
expect_is "$(get size)" 349
expect_is "$(get undersized)" true
expect_is "$(get measure)" total-length
traced "$cod" --size 350 --accept
expect_is "$(get undersized)" false
doing "$cod" --size 349 --refuse 'one short fish'
not 3 '86 mm is under the minimum of 87' "$lobster" --size 86 --accept
doing "$lobster" --size 87 --accept
expect_out 'size: 87 mm, minimum 87'
not 2 '--size 0 is outside 1 to' "$cod" --size 0 --accept
not 2 '--size -3 is outside 1 to' "$cod" --size -3 --accept
not 2 '--size "35cm" is not a whole number$' "$cod" --size 35cm --accept
not 2 '--size "" is not a whole number$' "$cod" --size '' --accept
not 2 '--size: no minimum size is held for JOD' "$cod" --species JOD \
    --size 300 --accept

# Berried lobster: SI 2017/899.  V notch: SI 2000/874.  Crab, berried or soft:
# Reg. (EC) No 2406/96 Art. 4(3).
for flag in berried notched; do
	not 3 ".*$flag.*(LBE|Lobster).* is not taken in: .*SI 20" "$lobster" \
	    --$flag --accept
	not 3 ".*$flag.* is not taken in" "$lobster" --$flag --note 'for eggs'
done
for flag in berried soft; do
	not 3 ".*$flag.* is not taken in: .*2406/96" "$crab" --$flag --note x
done
doing "$lobster" --berried --refuse 'carries eggs'
expect_out ': carries eggs'
no=$(sed -n 's/^refused Lobster as batch \([^:]*\):.*/\1/p' out)
does --json trace "$no"
expect_is "$(get decision)" refused
doing "$lobster" --accept

# Areas.  27.7.e is the western English Channel, 27.11 does not exist: FAO
# list of fishing areas.  VIIe is its old style (from memory).
doing "$cod" --area 27.7.e --accept
expect_out 'area: Western English Channel'
for typed in VIIe viie 27.7.E 27.7e 7e; do
	traced "$cod" --area "$typed" --accept
	expect_is "$(get area)" 27.7.e "for $typed"
done
not 2 '.*no fishing area "27\.11"; 27 ' "$cod" --area 27.11 --accept
not 2 '.*no fishing area "99"' "$cod" --area 99 --accept
not 2 '.*no fishing area "27\.11"' "$cod" --area 27.11 --refuse x
traced "$cod" --area 'Fjord farm, Norway' --accept
expect_out '"area": "Fjord farm, Norway"'
doing "$cod" --area 'Fjord farm, Norway' --accept
expect_no_out 'area:'
# A major area is too wide in FAO 27: Reg. (EU) 1379/2013 Art. 38(1)(a).
doing "$cod" --area 27 --accept
expect_out 'papers: missing'
expect_out '1379/2013'

# Gear: LLS is a set longline, ISSCFG 09.31 (FAO 2016); the category is of
# Reg. (EU) 1379/2013 Annex III.
for typed in LLS lls 09.31 'Hooks and lines'; do
	traced "$cod" --gear "$typed" --accept
	expect_is "$(get gear)" 'Hooks and lines' "for $typed"
done
traced "$cod" --gear 'a bent pin' --accept
expect_is "$(get gear)" 'a bent pin'

# Papers.  Dispatch date: Reg. (EU) 931/2011 Art. 3(1)(h).  Gear:
# Reg. (EU) 1379/2013 Art. 35(1)(c), not asked of farmed fish.
doing "$cod" --accept
expect_out 'papers: missing date of dispatch (Reg. (EU) 931/2011 Art. 3(1) h)'
expect_out 'papers: missing category of fishing gear'
doing "$cod" --method farmed --accept
expect_no_out 'fishing gear'
doing "$cod" --gear 'a bent pin' --accept
expect_out 'papers: missing category of fishing gear'
traced "$cod" --gear LLS --dispatched 2026-11-25 --vessel 'Blue Gull' --accept
expect_out '"papers_missing": []'
expect_is "$(get dispatched)" 2026-11-25
expect_is "$(get vessel)" 'Blue Gull'
not 2 '--dispatched "soon" is not a date' "$cod" --dispatched soon --accept
not 2 '--dispatched 2026-11-31 is a day that does not exist' "$cod" \
    --dispatched 2026-11-31 --accept
not 2 '--vessel holds a control character$' "$cod" --accept \
    --vessel "$(printf 'Gull\033[7m')"
not 2 '--vessel is not valid UTF-8' "$cod" --accept \
    --vessel "$(printf 'G\374ll')"
not 2 '--vessel is 200 bytes long' "$cod" --accept \
    --vessel "$(printf '%200s' | tr ' ' v)"

# The supplier's label.  Identifiers: GS1 Barcode Syntax Dictionary; the trade
# item number is an example of the GS1 Barcode Syntax Engine.
label="]C10112345678901231310200096010LOT77${gs}17261130"
label="${label}7008cod${gs}700527.7.e${gs}7007261124${gs}304${gs}7009LLS"
traced "$rest" --scan "$label" --accept
expect_is "$(get species)" COD
expect_is "$(get lot)" LOT77
expect_is "$(get weight_g)" 9600
expect_is "$(get fish)" 4
expect_is "$(get supplier_use_by)" 2026-11-30
expect_is "$(get area)" 27.7.e
expect_is "$(get gear)" 'Hooks and lines'
expect_is "$(get caught)" 2026-11-24

# What is typed wins, field by field; another species only with a note.
not 3 '--species says HAD and the label says COD' "$rest" --scan "$label" \
    --species HAD --accept
traced "$rest" --scan "$label" --species HAD --lot MINE --weight 5kg \
    --count 3 --supplier-date 2026-11-29 --area 27.4.b --gear TBB \
    --caught 2026-11-23 --note 'haddock in the box, by eye'
expect_is "$(get species)" HAD
expect_is "$(get lot)" MINE
expect_is "$(get weight_g)" 5000
expect_is "$(get fish)" 3
expect_is "$(get supplier_use_by)" 2026-11-29
expect_is "$(get area)" 27.4.b
expect_is "$(get gear)" Trawls
expect_is "$(get caught)" 2026-11-23
traced "$rest" --lot MINE --scan "$label" --accept
expect_is "$(get lot)" MINE
expect_is "$(get species)" COD

# A second symbol, in either order.
item=']C10112345678901231'
lot="]C110LOT88${gs}172611303102000960"
lot="${lot}7008HAD${gs}700527.4.b"
traced "$rest" --scan "$item" --scan "$lot" --accept
expect_is "$(get lot)" LOT88
expect_is "$(get species)" HAD
traced "$rest" --scan "$lot" --scan "$item" --accept
expect_is "$(get lot)" LOT88
expect_is "$(get weight_g)" 9600
expect_is "$(get supplier_use_by)" 2026-11-30
not 2 '--species is missing' "$rest" --scan "$item" --accept
not 2 '--scan: .*\(10\) is A and B' "$rest" --scan "${item}10A" \
    --scan "${item}10B" --accept
not 2 '--scan: .*\(01\)' "$rest" --scan "$label" \
    --scan ']C10112312312312333' --accept
not 2 'more than 4 --scan$' "$rest" --scan "$item" --scan "$item" \
    --scan "$item" --scan "$item" --scan "$item" --accept
# A trade item number alone, and a Digital Link.
traced "$cod" --scan 4006381333931 --accept
traced "$rest" --species COD --weight 9kg --area 27.7.e \
    --scan https://fish.example/01/12345678901231/10/ABC --accept
expect_is "$(get lot)" ABC

# A bad scan stops it, even where every field is typed.
full="$cod --accept"
not 2 '--scan: .*the check digit is 4 but should be 1' "$full" \
    --scan ']C101123456789012343102000960'
not 2 '--scan: .*the check digit is 2 but should be 1' "$full" \
    --scan 4006381333932
not 2 '--scan: .*a separator may be missing' "$full" \
    --scan ']C1011234567890123110LOT77172611307008COD700527.7.e'
not 2 '--scan: .*\(10\)' "$full" \
    --scan ']C1011234567890123110LOT7717261130'
not 2 '--scan: .*is not a day in 2026' "$full" \
    --scan ']C1011234567890123117261131'
not 2 '--scan: .*no supplier' "$full" --scan hello
not 2 '--scan: .*no supplier' "$full" --scan ''
not 2 '--scan: ' "$full" --scan "$item" --scan hello
not 2 '--scan: ' "$full" --scan hello --scan "$item"
not 2 '--scan: ' "$cod" --refuse x --scan hello
not 2 '.*no fishing area "27\.11"' "$rest" --species COD --weight 9kg \
    --lot L --accept --scan "${item}700527.11"
not 4 '.*no species "QQQ"' "$rest" --weight 9kg --lot L --area 27.7.e \
    --accept --scan "${item}7008QQQ"
not 3 "the supplier's use-by has passed" "$full" --scan "${item}17261125"
not 3 '.*is in the future' "$full" --scan "${item}7007261127"

# Our own labels are no supplier's: as code, as what the symbol holds.
doing "$cod" --accept
ours=$(sed -n 's/^batch \([^ ]*\).*/\1/p' out)
not 2 '--scan: .*no supplier' "$full" --scan "$ours"
body=1000000$(printf '%s' "$ours" | tr -d -)2611292359
not 2 '--scan: .*no supplier' "$full" --scan "91$body$(check_of "$body")"
not 2 '--scan: .*no supplier' "$full" --scan "]d291$body$(check_of "$body")"
portion=001H7$(check_of 001H7)
not 2 '--scan: .*no supplier' "$full" --scan "$portion"

# A species from the label is checked like a typed one.
not 2 '--presentation live does not go with' "$rest" --presentation live \
    --scan "$label" --accept

# Season: advice, no refusal.  Mussels spawn in March and April: Torry Advisory
# Note 13.  The day of catch counts, not the day of receipt.
doing "$lobster" --accept
expect_no_out 'season:'
day=2027-04-02
doing "$lobster" --species MUS --caught 2027-04-01 --accept
expect_out 'season: spawning 03-01 to 04-30, British Isles ('
traced "$lobster" --species MUS --caught 2027-04-01 --accept
expect_out 'British Isles'
day=2027-05-01
doing "$lobster" --species MUS --caught 2027-04-30 --accept
expect_out 'season: spawning 03-01 to 04-30'
doing "$lobster" --species MUS --caught 2027-05-01 --accept
expect_no_out 'season:'

# Sent tomorrow, or before it was caught, is a label read wrong.
not 3 '--dispatched 2027-05-02 is in the future' "$cod" \
    --dispatched 2027-05-02 --accept
not 3 '--dispatched 2027-04-28 is before --caught 2027-04-29' "$cod" \
    --caught 2027-04-29 --dispatched 2027-04-28 --accept
# AI 7006, first freezing: this is not the fresh fish it would be dated as.
not 3 '.*fro(zen|ze|st)' "$full" --scan "${item}7006260101"
# AI 7003 carries a time: this ran out an hour ago.
not 3 ".*use-by has passed" "$full" --scan "${item}70032705010800"
# AI 15: past its best is for a person to say.
not 3 ".*best-before 2027-04-30 has passed" "$full" --scan "${item}15270430"
# FAO in small letters is no less a code.
not 2 '.*27\.11' "$cod" --area 'fao 27.11' --accept
# What was seen belongs to the record of a refusal.
traced "$lobster" --berried --refuse 'carries eggs'
expect_out berried
