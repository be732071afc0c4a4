# What the station knows of a species, with where each figure comes from.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"

settings
run --config station.ini species
expect_status 0
expect_no_err
[ "$(wc -l <out)" -eq 63 ] || fail 'not 63 species'
pass

# FAO Fisheries Technical Paper 309 (1989), table 1: cod, skinless fillet 34 %.
run --config station.ini species cod
expect_status 0
expect_out 'COD  Cod (Gadus morhua)'
expect_out 'round, 2 fillets'
expect_out 'whole    to skinless     34 %'
expect_out 'FAO Fisheries Technical Paper 309 (1989) Table 1'
# Reg. (EU) 2019/1241 Annex VI part A: cod 35 cm.
expect_out '350 mm total-length, North Western Waters'
# FAO Technical Paper 348 appendix D: the printed scale sums to 23 points.
expect_out 'Quality index, cod, raw whole: 0 to 23'
expect_out 'needs a parasite-freeze record (strict)'
[ "$(awk '{ if (length > n) n = length } END { print n }' out)" -le 140 ]

# By scientific name; the histamine family of Reg. (EC) 2073/2005.
run --config station.ini species 'Scomber scombrus'
expect_status 0
expect_out 'histamine    can form when warm'
run --config station.ini species LBE
# SI 2017/899: berried lobster.
expect_out 'berried'
run --config station.ini --json species PLE
expect_status 0
expect_out '"species": "PLE"'
expect_out '"pieces": 4'
expect_out '"per_10000"'
run --config station.ini --csv species
expect_out 'species,name,scientific,body_form,allergen'

run --config station.ini species kraken
expect_status 4
expect_one_line_err
expect_err 'kraken'
