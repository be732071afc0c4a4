# Bookings, menu and suppliers: whole or not at all, with line and column.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
kitchen

# --- bookings --------------------------------------------------------------

does import bookings bookings.csv
echo 'bookings: 0 added, 0 changed, 2 as before' | expect_out_is
mark
does import bookings bookings.csv --by AK
expect_unchanged

# bookings TEXT REGEX [STATUS] - printf TEXT as a file; refused.
bookings()
{
	printf "$1" >b.csv
	refuses "${3:-2}" "^pinbone: b\\.csv$2" import bookings b.csv
}

head='date,service,covers\n'
good=2026-12-01,dinner,10
bookings "$head$good\n2026-12-02,supper,10\n" \
    ':3:12: service "supper" has no \[service\] section'
bookings "$head$good\n2026-02-30,dinner,10\n" \
    ':3:1: date 2026-02-30 is a day that does not exist'
bookings "$head$good\n2027-02-29,dinner,10\n" ':3:1: date 2027-02-29 is a day'
bookings "$head$good\n02/12/2026,dinner,10\n" \
    ':3:1: date "02/12/2026" is not a date: write it as YYYY-MM-DD$'
bookings "$head$good\n2026-12-02,dinner,-1\n" ':3:19: covers -1 is outside'
bookings "$head$good\n2026-12-02,dinner,5001\n" \
    ':3:19: covers 5001 is outside 0 to 5000$'
bookings "$head$good\n2026-12-02,dinner,many\n" \
    ':3:19: covers "many" is not a whole number$'
bookings "$head$good\n2026-12-02,dinner,12.5\n" ':3:19: covers "12\.5" is'
bookings "$head$good\n2026-12-02,dinner,\n" ':3:19: covers "" is not'
bookings "$head$good\n2026-12-01,DINNER,11\n" \
    ':3:1: this date and service stand in the file twice'
bookings "$head$good\n2026-12-02,dinner\n" ':3:1: 2 fields, the header has 3$'
bookings "$head$good\n2026-12-02,dinner,10,5\n" ':3:1: 4 fields'
bookings "$head\"2026-12-01,dinner,10\n" ':2:1: a quoted field that is never'
bookings "${head}2026-12-01,din\"ner\",10\n" ':2:15: a quote inside a field'
bookings "${head}2026-12-01,\"dinner\"x,10\n" ':2:20: text after a closing'
bookings "${head}2026-12-01,dinner\\000,10\n" ':2:18: a NUL byte'
bookings "${head}2026-12-01,din\\351ner,10\n" ':2:12: .*not valid UTF-8'
bookings "${head}2026-12-01,din\\033[2Jner,10\n" ':2:15: a control character'
bookings "${head}2026-12-01\rdinner,10\n" ':2:11: a carriage return'
bookings 'date,service\n2026-12-01,dinner\n' ':1:1: column "covers" is missing'
bookings 'date,service,covers,table\n' ':1:21: unknown column "table"$'
bookings 'date,date,service,covers\n' ':1:6: this column appears twice$'
bookings '' ':1:1: the file is empty$'
printf '\120\113\003\004\024\000' >b.csv
refuses 2 '^pinbone: b\.csv:1:3: a control character' import bookings b.csv
refuses 4 '^pinbone: none\.csv: No such file or directory$' \
    import bookings none.csv
mkdir folder
refuses 1 '^pinbone: folder: Is a directory$' import bookings folder

# 10 MB in one field: refused, in a second at most.
{ printf 'date,service,covers\n2026-12-01,'; head -c 10000000 /dev/zero |
    tr '\0' x; echo ',10'; } >b.csv
refuses 2 '^pinbone: b\.csv' import bookings b.csv
# One that fits the file's limit but not a field's.
{ printf 'date,service,covers\n2026-12-01,'; head -c 1000000 /dev/zero |
    tr '\0' x; echo ',10'; } >b.csv
refuses 2 '^pinbone: b\.csv:2:12: this field is longer than 1000 bytes$' \
    import bookings b.csv
rm b.csv

# Nothing of a refused file was taken: the good line in it has no bookings.
refuses 4 . plan 2026-12-01/dinner

# Byte order mark, carriage returns, quotes, blank lines, any column order.
printf '\357\273\277"covers",service,date\r\n\r\n"12",Dinner,2026-12-03\r\n' \
    >b.csv
does import bookings b.csv
echo 'bookings: 1 added, 0 changed, 0 as before' | expect_out_is
does --json plan 2026-12-03/dinner
expect_out '"covers": 12,'

# A changed number is a change; no end of line at the end of the file.
printf 'date,service,covers\n2026-12-03,dinner,15' >b.csv
does import bookings b.csv
echo 'bookings: 0 added, 1 changed, 0 as before' | expect_out_is
does --json plan 2026-12-03/dinner
expect_out '"covers": 15,'

# Standard input.
ran='import bookings -'
printf 'date,service,covers\n2026-12-04,lunch,8\n' | "$PINBONE" \
    --config station.ini --db k.db --now "${day}T$at" import bookings - \
    >out 2>errf
echo 'bookings: 1 added, 0 changed, 0 as before' | expect_out_is
status=0
printf 'date,service,covers\n2026-12-04,lunch,x\n' | "$PINBONE" \
    --config station.ini --db k.db --now "${day}T$at" import bookings - \
    >out 2>errf || status=$?
expect_status 2
expect_one_line_err
expect_err '^pinbone: (-|standard input):2:18: covers'

# --- menu ------------------------------------------------------------------

does import menu menu.csv
echo 'menu: 0 added, 0 changed, 3 as before' | expect_out_is
mark
does import menu menu.csv
expect_unchanged

columns='dish,name,state,species,cut,skin,bought,low,target,high,mix'

# menu ROW REGEX [STATUS] - a good row and then this one; refused.
menu()
{
	{
		echo "$columns"
		echo 'ling-pie,Ling pie,raw,LIN,fillet,off,whole,90,100,110,'
		printf '%s\n' "$1"
	} >m.csv
	refuses "${3:-2}" "^pinbone: m\\.csv:3:$2" import menu m.csv
}

menu 'Cod Side,x,raw,COD,fillet,off,whole,1,2,3,' '1: a dish code is written'
menu ',x,raw,COD,fillet,off,whole,1,2,3,' '1: dish is empty'
menu 'cod,,raw,COD,fillet,off,whole,1,2,3,' '5: name is empty'
menu "$(printf '%32s' | tr ' ' d),x,raw,COD,fillet,off,whole,1,2,3," \
    '1: dish is 32 bytes long, at most 31 fit'
menu "cod,$(printf '%64s' | tr ' ' n),raw,COD,fillet,off,whole,1,2,3," \
    '5: name is 64 bytes long, at most 63 fit'
menu 'cod,x,grilled,COD,fillet,off,whole,1,2,3,' \
    '7: state "grilled" is not known: raw, served-raw'
menu 'cod,x,raw,QQQ,fillet,off,whole,1,2,3,' '11: .*QQQ'
menu 'cod,x,raw,COD,slab,off,whole,1,2,3,' '15: cut "slab" is not one of'
menu 'cod,x,raw,COD,fillet,maybe,whole,1,2,3,' '22: skin is on or off'
menu 'cod,x,raw,COD,fillet,off,frozen,1,2,3,' \
    '26: presentation "frozen" is not one of'
menu 'cod,x,raw,COD,fillet,off,whole,0,2,3,' '32: low "0" is not above zero'
menu 'cod,x,raw,COD,fillet,off,whole,1,two,3,' '34: target "two" is not a w'
menu 'cod,x,raw,COD,fillet,off,whole,1,2,-3,' '36: high "-3" is not above'
menu 'cod,x,raw,COD,fillet,off,whole,150,120,180,' \
    '36: weights must be low <= target <= high'
menu 'cod,x,raw,COD,fillet,off,whole,100,190,180,' '36: weights must be'
menu 'cod,x,raw,COD,fillet,off,whole,1,2,3,dinner' '38: "dinner": write the'
menu 'cod,x,raw,COD,fillet,off,whole,1,2,3,tea:5' '38: "tea": write the share'
menu 'cod,x,raw,COD,fillet,off,whole,1,2,3,dinner:101' '38: share "101" is not'
menu 'cod,x,raw,COD,fillet,off,whole,1,2,3,dinner:-1' '38: share "-1" is not'
menu 'ling-pie,Ling pie,raw,LIN,fillet,off,whole,90,100,110,' \
    '1: dish ling-pie with LIN stands in the file twice'
menu 'ling-pie,Other name,raw,COD,fillet,off,whole,90,100,110,' \
    '1: dish ling-pie: name, state'
# A pack or a thaw is no way to serve.
menu 'pack,Cod pack,vacuum,COD,fillet,off,whole,30,40,50,' \
    '15: a dish is raw, served-raw, cooked or live'
echo "$columns" >m.csv
refuses 2 '^pinbone: m\.csv: no dish in it: the menu stays' import menu m.csv
printf 'dish,name\n' >m.csv
refuses 2 '^pinbone: m\.csv:1:1: column "state" is missing' import menu m.csv
does --json plan 2026-11-27/dinner
expect_no_out ling-pie
expect_out cod-side

# The kitchen's own yield goes before the table's; 0 is refused.
echo "$columns,yield" >m.csv
echo 'cod-side,C,raw,COD,fillet,off,whole,1,2,3,,0' >>m.csv
refuses 2 '^pinbone: m\.csv:2:44: a yield of 0' import menu m.csv

# A dish off the menu is counted and is gone from the plan.
grep -v mussel menu.csv >m.csv
does import menu m.csv
echo 'menu: 0 added, 0 changed, 2 as before, 1 off the menu' | expect_out_is
does --json plan 2026-11-27/dinner
expect_no_out mussel-toast

# --- suppliers -------------------------------------------------------------

does import suppliers suppliers.csv
echo 'suppliers: 0 added, 0 changed, 1 as before' | expect_out_is

suppliers()
{
	printf 'code,name,address,approval,contact\nok,Good Fish,Pier 1,,\n' \
	    >s.csv
	printf '%s\n' "$1" >>s.csv
	refuses 2 "^pinbone: s\\.csv:3:$2" import suppliers s.csv
}

suppliers ',Fish,Pier 2,,' '1: code is empty'
suppliers 'x,,Pier 2,,' '3: name is empty'
suppliers 'x,Fish,,,' '8: address is empty'
suppliers 'OK,Fish,Pier 2,,' '1: code OK stands in the file twice'
suppliers "$(printf '%24s' | tr ' ' c),Fish,Pier 2,," '1: code is 24 bytes'
suppliers "x,$(printf '%80s' | tr ' ' n),Pier 2,," '3: name is 80 bytes'
suppliers "x,Fish,$(printf '%160s' | tr ' ' a),," '8: address is 160 bytes'
suppliers "x,Fish,Pier 2,$(printf '%24s' | tr ' ' v)," '15: approval is 24'
suppliers "x,Fish,Pier 2,,$(printf '%64s' | tr ' ' t)" '16: contact is 64'
refuses 4 'ok' receive --by AK --supplier ok --document 1 --species COD \
    --presentation whole --weight 1kg --lot 1 --temperature 1 --area x \
    --method caught --accept
# An address on two lines would break every label and list.
suppliers 'x,Fish,"Pier 2
Quay",,' '8: address holds a control character'

refuses 2 '"prices" cannot be imported: bookings, menu, offers, sales or suppliers' \
    import prices s.csv
p import bookings
expect_status 64
expect_one_line_err

# A share given twice is a slip of the pen: which one was meant?
menu 'cod,x,raw,COD,fillet,off,whole,1,2,3,dinner:5 dinner:6' '38: '
