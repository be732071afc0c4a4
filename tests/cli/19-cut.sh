# Cut plans of any fish on the board: files in, list, JSON and CSV out.
. "$TOP/tests/cli/lib.sh"

fish_head=fish,species,bought_g,usable_g,pieces,cost,keep,byproduct_g
dish_head=dish,species,wanted,low_g,target_g,high_g,short_cost,whole
trim_head=pool,species,wanted_g,price_per_g

# csv FILE HEAD LINE... - a file of these lines.
csv()
{
	to=$1
	shift
	printf '%s\n' "$@" >"$to"
}

cut()
{
	run cut --fish fish.csv --dishes dishes.csv "$@"
}

# get KEY - first value of a key in the JSON of the last run.
get()
{
	sed -n "s/^ *\"$1\": \"\{0,1\}\([^\",]*\)\"\{0,1\},\{0,1\}\$/\1/p" out |
	    head -n 1
}

# costs WANT - proved, at this cost.
costs()
{
	cut --json
	expect_status 0
	expect_no_err
	[ "$(get cost)" = "$1" ] || fail "expected a cost of $1"
	[ "$(get bound)" = "$1" ] || fail "expected a bound of $1"
	expect_out '"proved": true'
	expect_out '"gap": 0.0'
}

run cut --help
expect_status 0
expect_out 'usage: pinbone cut [OPTIONS]'
[ "$(awk '{ if (length > n) n = length } END { print n }' out)" -le 80 ] ||
    fail 'a line of the help is longer than 80 columns'

# --- by hand ------------------------------------------------------------------

# Two hake whose fillets weigh 240 g; 2 x 160 and 2 x 90 wanted, ten and eight
# grams either way.  152 + 88 = 240: one fish does it.  Who cuts 160 first has
# 80 left and opens the second.
csv fish.csv $fish_head \
    h1,hake,1000,240,2,550000,165000,0 \
    h2,hake,1000,240,2,550000,165000,0 \
    h3,hake,1400,336,2,1540000,462000,0
csv dishes.csv $dish_head \
    roast,hake,2,150,160,170,900000,0 \
    starter,hake,2,82,90,98,600000,0
costs 550000
cut
expect_status 0
expect_no_err
expect_out 'CUT PLAN  3 fish: cut 1, serve 0 whole, leave 2 closed'
expect_out '[ ] fish h'
expect_out '2 pieces: 1'
expect_out ' g roast + '
expect_out 'left closed: '
expect_out 'cost 550.000 in the smallest coin; no plan costs less than 550.000'
expect_out 'gap 0.0000 %: proved'
[ "$(awk '{ if (length > n) n = length } END { print n }' out)" -le 79 ] ||
    fail 'a line is longer than 79 columns'
cut --csv
expect_status 0
expect_out 'fish,mode,piece,use,dish,grams'
[ "$(grep -c ',portion,roast,' out)" -eq 2 ] || fail 'not two of the roast'
[ "$(grep -c ',portion,starter,' out)" -eq 2 ] || fail 'not two starters'
pass
# What is cut and what is left of a piece is the piece.
awk -F, 'NR > 1 && $2 == "cut" { g[$1 "," $3] += $6 }
END { for (p in g) if (g[p] != 240) exit 1 }' out ||
    fail 'a piece does not add up to 240 g'
pass

# --- shape of the JSON --------------------------------------------------------

csv fish.csv $fish_head f1,sole,500,40,4,1000,0,0 f2,sole,900,80,4,1000,0,30 \
    f3,ling,3000,900,2,9000000,0,0
csv trim.csv $trim_head "cakes,sole|ling,60,300"
cat >dishes.csv <<END
$dish_head,under_price
"a ""b"", c",SOLE,1,450,500,550,900000,1,
goujon,ling|sole,4,75,75,85,5000,0,3
END
cut --trim trim.csv --json
expect_status 0
expect_out_is <<'END'
{
  "cost": 5000,
  "bound": 5000,
  "proved": true,
  "gap": 0.0,
  "fish": [
    {
      "fish": "f1",
      "mode": "whole",
      "dish": "a \"b\", c",
      "pieces": []
    },
    {
      "fish": "f2",
      "mode": "cut",
      "dish": "",
      "pieces": [
        {
          "cuts": [
            {
              "dish": "goujon",
              "grams": 75
            }
          ],
          "trim_g": 5,
          "kept": false
        },
        {
          "cuts": [
            {
              "dish": "goujon",
              "grams": 75
            }
          ],
          "trim_g": 5,
          "kept": false
        },
        {
          "cuts": [
            {
              "dish": "goujon",
              "grams": 75
            }
          ],
          "trim_g": 5,
          "kept": false
        },
        {
          "cuts": [
            {
              "dish": "goujon",
              "grams": 75
            }
          ],
          "trim_g": 5,
          "kept": false
        }
      ]
    },
    {
      "fish": "f3",
      "mode": "closed",
      "dish": "",
      "pieces": []
    }
  ],
  "dishes": [
    {
      "dish": "a \"b\", c",
      "made": 1,
      "short": 0
    },
    {
      "dish": "goujon",
      "made": 4,
      "short": 0
    }
  ],
  "trim": [
    {
      "pool": "cakes",
      "made_g": 50,
      "short_g": 10
    }
  ]
}
END

# --- known optimum ------------------------------------------------------------

# Proved by an integer programming solver (CBC, pattern form): 7 775 438.
csv fish.csv $fish_head p1,plaice,524,50,4,335360,50304,10 \
    p2,plaice,524,51,4,209600,31440,10 p3,plaice,606,60,4,387840,58176,12 \
    p4,plaice,696,69,4,556800,83520,13 p5,plaice,596,57,4,381440,57216,11 \
    p6,plaice,494,48,4,19760,0,9 p7,plaice,532,54,4,340480,51072,10 \
    p8,plaice,518,49,4,20720,0,10 p9,plaice,584,58,4,373760,56064,11 \
    p10,plaice,479,48,4,306560,45984,9
csv dishes.csv $dish_head large,plaice,4,125,140,155,788576,0 \
    quarter,plaice,10,67,75,83,383239,0 whole,plaice,5,450,500,550,880000,1
csv trim.csv $trim_head cakes,plaice,1260,700
cut --trim trim.csv --json
expect_status 0
[ "$(get cost)" = 7775438 ] || fail 'not the known optimum'
pass

# --- no station, whatever there is -----------------------------------------

mv out there
echo 'not settings' >station.ini
echo 'not a station' >k.db
run --config station.ini --db k.db --json cut --fish fish.csv \
    --dishes dishes.csv --trim trim.csv
expect_status 0
cmp -s out there || fail 'another answer beside a station'
pass
run --json cut --fish - --dishes dishes.csv --trim trim.csv <fish.csv
expect_status 0
cmp -s out there || fail 'another answer from standard input'
pass

# --- short on purpose, and what no fish can give ----------------------------

csv fish.csv $fish_head f1,hake,1000,240,2,5000000,0,0
csv dishes.csv $dish_head roast,hake,2,150,160,170,100,0 \
    fry,monk,3,100,100,100,1000,0
cut
expect_status 0
expect_out 'on purpose (1)'
expect_out 'fry                                 3        0        3
'
costs 3200
# Nothing wanted at all costs nothing, and its gap is no division by 0.
csv dishes.csv $dish_head roast,hake,0,150,160,170,100,0
costs 0

# --- bad input ------------------------------------------------------------------

# bad FILE LINE REGEX - line 2 of a good file replaced: one line, status 2.
bad()
{
	csv fish.csv $fish_head f1,hake,1000,240,2,550000,165000,20
	csv dishes.csv $dish_head roast,hake,2,150,160,170,900000,0
	csv trim.csv $trim_head cakes,hake,100,700
	sed "2s/.*/$2/" "$1" >new
	mv new "$1"
	cut --trim trim.csv
	expect_status 2
	expect_one_line_err
	expect_err "^pinbone: $3"
	[ ! -s out ] || fail 'expected no output with an error'
}

bad dishes.csv roast,hake,2,170,160,170,900000,0 \
    'dishes.csv:2:14: low_g 170 is above target_g 160'
bad dishes.csv roast,hake,2,150,160,155,900000,0 \
    'dishes.csv:2:22: high_g 155 is below target_g 160'
bad dishes.csv roast,hake,2,0,160,170,900000,0 'dishes.csv:2:14: low_g'
bad dishes.csv roast,hake,-1,150,160,170,900000,0 'dishes.csv:2:12: wanted'
bad dishes.csv roast,hake,10001,150,160,170,900000,0 'dishes.csv:2:12: wanted'
bad dishes.csv roast,hake,2,150,160,170,-1,0 'dishes.csv:2:26: short_cost'
bad dishes.csv roast,hake,2,150,160,170,100000000001,0 \
    'dishes.csv:2:26: short_cost'
bad dishes.csv roast,hake,2,150,160,170,99999999999999999999,0 \
    'dishes.csv:2:26: short_cost'
bad dishes.csv roast,hake,2,150,160,170,9000.5,0 'dishes.csv:2:26: short_cost'
bad dishes.csv roast,hake,2,150,160,170,900000,2 'dishes.csv:2:33: whole'
bad dishes.csv roast,hake,2,150,160,170,900000, 'dishes.csv:2:33: whole'
bad dishes.csv roast,hake\|,2,150,160,170,900000,0 \
    'dishes.csv:2:7: species .*empty'
bad dishes.csv ,hake,2,150,160,170,900000,0 'dishes.csv:2:1: dish .*empty'
bad dishes.csv roast,hake,2,150,160,170 'dishes.csv:2:1: 6 fields'
bad dishes.csv '' 'dishes.csv:2:1: no dish in it'
bad fish.csv '' 'fish.csv:2:1: no fish in it'
bad fish.csv f1,hake,1000,0,2,550000,165000,20 'fish.csv:2:14: usable_g'
bad fish.csv f1,hake,1000,501,2,550000,165000,20 \
    'fish.csv:2:14: 2 x 501 g and 20 g by-product are more than the fish of 10'
bad fish.csv f1,hake,1000,490,2,550000,165000,21 'fish.csv:2:14: 2 x 490 g'
bad fish.csv f1,hake,1000,-240,2,550000,165000,20 'fish.csv:2:14: usable_g'
bad fish.csv f1,hake,1000,20001,1,550000,165000,20 'fish.csv:2:14: usable_g'
bad fish.csv f1,hake,0,240,2,550000,165000,20 'fish.csv:2:9: bought_g'
bad fish.csv f1,hake,200001,240,2,550000,165000,20 'fish.csv:2:9: bought_g'
bad fish.csv f1,hake,1000,240,0,550000,165000,20 'fish.csv:2:18: pieces'
bad fish.csv f1,hake,1000,24,9,550000,165000,20 'fish.csv:2:17: pieces'
bad fish.csv f1,hake,1000,240,2,-1,165000,20 'fish.csv:2:20: cost'
bad fish.csv f1,hake,1000,240,2,550000,-1,20 'fish.csv:2:27: keep'
bad fish.csv f1,hake,1000,240,2,550000,165000,-1 'fish.csv:2:34: byproduct_g'
bad fish.csv 'f1,hake|cod,1000,240,2,550000,165000,20' \
    'fish.csv:2:4: a fish is of one species'
bad fish.csv f1,,1000,240,2,550000,165000,20 'fish.csv:2:4: species'
bad fish.csv "$(printf 'f1,h\\tke,1000,240,2,550000,165000,20')" \
    'fish.csv:2:4: species'
bad fish.csv "$(printf 'f\351,hake,1000,240,2,550000,165000,20')" \
    'fish.csv:2:1: .*UTF-8'
bad fish.csv "$(printf 'x%.0s' $(seq 64)),hake,1000,240,2,1,1,20" \
    'fish.csv:2:1: fish'
bad trim.csv cakes,hake,-1,700 'trim.csv:2:12: wanted_g'
bad trim.csv cakes,hake,100,-1 'trim.csv:2:16: price_per_g'
bad trim.csv cakes,,100,1 'trim.csv:2:7: species'
# \\n in the replacement: a third line.
bad fish.csv 'f1,hake,1000,240,2,1,1,0\
f1,hake,1000,240,2,1,1,0' 'fish.csv:3:1: fish "f1" stands in the file twice'
bad dishes.csv 'a,hake,1,1,1,1,1,0\
a,hake,1,1,1,1,1,0' 'dishes.csv:3:1: dish "a" stands in the file twice'
bad trim.csv 'a,hake,1,1\
a,hake,1,1' 'trim.csv:3:1: pool "a" stands in the file twice'

# Sums beyond what is counted in: all prices at their largest.
csv fish.csv $fish_head f1,hake,200000,20000,8,100000000000,0,20
csv dishes.csv $dish_head,under_price \
    roast,hake,10000,1,20000,20000,100000000000,0,100000000000
cut
expect_status 2
expect_one_line_err
expect_err '^pinbone: fish.csv, dishes.csv: the costs add up'

# Limits: 24 dishes, 8 pools, 16 species, 10 000 fish.
csv dishes.csv $dish_head
for n in $(seq 25); do echo "d$n,hake,1,100,100,100,5,0" >>dishes.csv; done
cut
expect_status 2
expect_one_line_err
expect_err '^pinbone: dishes.csv:26:1: more than 24'
sed -i '$d' dishes.csv
cut
expect_status 0
csv trim.csv $trim_head
for n in $(seq 9); do echo "p$n,hake,1,1" >>trim.csv; done
cut --trim trim.csv
expect_status 2
expect_err '^pinbone: trim.csv:10:1: more than 8'
csv dishes.csv $dish_head "d,$(seq -s '|' 16),1,100,100,100,5,0"
cut
expect_status 2
expect_one_line_err
expect_err '^pinbone: dishes.csv:2:3: "16" would be species number 17'
csv dishes.csv $dish_head roast,hake,300,150,160,170,900000,0 \
    starter,hake,300,82,90,98,600000,0
{
	echo $fish_head
	seq 10001 | awk '{ g = 200 + $1 * 7919 % 300
		print "f" $1 ",hake,1500," g ",2," g * 2000 "," g * 500 ",20" }'
} >fish.csv
cut
expect_status 2
expect_one_line_err
expect_err '^pinbone: fish.csv:10002:1: more than 10000 fish'
sed -i '$d' fish.csv
cut
expect_status 0
expect_out 'CUT PLAN  10000 fish'
expect_out 'gap '

# Files that are not there, options left out.
run cut --fish none.csv --dishes dishes.csv
expect_status 4
expect_one_line_err
expect_err 'none.csv'
run cut --fish fish.csv
expect_status 2
expect_err '^pinbone: --dishes is missing'
run cut --fish - --dishes - <fish.csv
expect_status 2
expect_one_line_err
expect_err 'standard input can be one file only'
: >dishes.csv
cut
expect_status 2
expect_err '^pinbone: dishes.csv:1:1: the file is empty'
