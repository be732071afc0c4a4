# What a scan is said to be.  Nothing is recorded, no station file is needed.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
settings
gs=$(printf '\035')

# good TEXT SAYS..., bad TEXT REGEX - the scan is valid, is not.
good()
{
	does scan "$1"
	grep -Eq '^[^ ].*, (valid|the code is in order)$' out || fail 'not valid'
	pass
	expect_no_out problem:
	shift
	for says in "$@"; do
		expect_out "$says"
	done
}

# The line on stderr is also one of the problems in the output.
is_bad()
{
	expect_status 2
	expect_one_line_err
	expect_err "^pinbone: $1"
	expect_out ', NOT VALID'
	expect_out "$(sed 's/^pinbone: /problem: /' errf)"
}

bad()
{
	p scan "$1"
	is_bad "$2"
}

# The listing, member by member.
does --json scan '(01)12345678901231(10)12345'
expect_out_is <<'IS'
{
  "kind": "gs1",
  "valid": true,
  "elements": [
    {
      "ai": "01",
      "title": "GTIN",
      "value": "12345678901231",
      "meaning": "GTIN-14 12345678901231"
    },
    {
      "ai": "10",
      "title": "BATCH/LOT",
      "value": "12345",
      "meaning": "12345"
    }
  ],
  "problems": []
}
IS
p --json scan ']E02112345678901'
expect_status 2
expect_one_line_err
expect_out_is <<'IS'
{
  "kind": "ean",
  "valid": false,
  "elements": [],
  "problems": [
    "2112345678901: the check digit is 1 but should be 0: read it again"
  ]
}
IS
does scan '(01)12345678901231(10)12345'
expect_out_is <<'IS'
GS1 element string, valid
  (01)   GTIN                     12345678901231
                                  = GTIN-14 12345678901231
  (10)   BATCH/LOT                12345
IS

# Check digits.  24012345678905: scan data of the GS1 Barcode Syntax Engine;
# 9501234 gives 6 and 629104150021 gives 3: tests of biip; 0234567 gives 3 and
# 41600033610 gives 8: tests of the GS1 Barcode Syntax Dictionary.
good 24012345678905 '24012345678905'
bad 24012345678909 '.*the check digit is 9 but should be 5'
good 95012346 95012346
# Bare, eight characters may be a batch code.
bad ]E495012345 '.*the check digit is 5 but should be 6'
good 6291041500213 6291041500213
bad 6291041500214 '.*the check digit is 4 but should be 3'
good 416000336108 416000336108
bad 416000336109 '.*the check digit is 9 but should be 8'
# EAN-13 as a scanner marks it (number from memory).
good ]E04006381333931 'GTIN-13 4006381333931'
bad ]E04006381333932 '.*the check digit is 2 but should be 1'
bad 4006381333932 '.*the check digit is 2 but should be 1'

# Restricted circulation: no trade item number (tests of biip).
for n in 00011112 00099998 201111111115 291111111116 401111111119 \
    491111111110 2001234567893 2011122912346; do
	good $n 'restricted circulation number, valid'
	expect_no_out '(01)'
done
good ]E02112345678900 'restricted circulation number, valid'

# Element strings of the GS1 Barcode Syntax Engine.
good "${gs}011234567890123110"12345 '(01)' \
    '(10)   BATCH/LOT                12345'
good "${gs}31001234560112345678901231" '(3100)' '123456'
good "${gs}0112345678901231235XYZ${gs}10BATCH" '(235)' XYZ BATCH
bad "${gs}0112345678901234" '\(01\) .*the check digit is 4 but should be 1'
bad "${gs}01123456789012312" 'no application identifier begins with "2"'
good '(01)12345678901231(7007)211225211231' '25 December 2021' \
    '31 December 2021'
good '(01)12345678901231(7007)211225' '25 December 2021'
for n in 528 528528 528528528 528528528528 528528528528528; do
	good "(01)12345678901231(423)$n"
done
bad '(01)12345678901231(423)528528528528528528' '\(423\)'
bad '(01)12345678901231(423)5285' '\(423\)'
bad "${gs}99~ABC" '\(99\) ~ABC: holds a character'
good "]C1011231231231233310ABC123${gs}99TESTING" ABC123 TESTING
for text in ABC ] ]X ]XX ]C1; do
	bad "$text" '.'
	expect_out 'unknown, NOT VALID'
done

# What must and must not stand together (the same).
bad '(01)12345678901231(02)12345678901231' '\(02\)'
expect_out '(02) must not stand together with (01)'
bad '(02)12345678901231(37)10' '\(37\) needs \(00\)'
good '(00)123456789012345675(02)12345678901231(37)10' '(00)' '(37)'
bad '(21)X' '\(21\) needs'
good '(01)12345678901231(21)X' SERIAL

# Dates: tests of biip and of the dictionary.
good '(01)12345678901231(11)030201' '1 February 2003'
good '(01)12345678901231(7003)0701021415' '2 January 2007 14:15'
good '(01)12345678901231(15)200200' '29 February 2020'
good '(01)12345678901231(17)240229' '29 February 2024'
bad '(01)12345678901231(11)120230' '\(11\) 120230'
bad '(01)12345678901231(17)210229' '\(17\) 210229'
bad '(01)12345678901231(17)000230' '\(17\) 000230'
bad '(01)12345678901231(7003)2611302400' '.*2400 is not a time of day'

# Names from the station's own tables.
good '(01)12345678901231(3102)000960(7008)COD(7005)27.7.e(7009)LLS' \
    'Gadus morhua' 'Western English Channel' 'Set longline' '9.60 kg'

# Every way a separator can arrive.
f12=$(printf '\033[24~')
for sep in "$gs" "$f12"; do
	for mark in ]C1 ]d2 ]Q3 "$gs"; do
		good "${mark}011234567890123110AB${sep}17261130" \
		    'BATCH/LOT                AB
' '30 November 2026'
	done
done
bad ']C1011234567890123110AB^17261130' '\(10\) .*holds a character'
settings 'separator = ^'
good ']C1011234567890123110AB^17261130' '30 November 2026'
settings 'separator = A'
p scan ']C1011234567890123110AB'
expect_status 2
expect_one_line_err
expect_err '^pinbone: station.ini: \[scanner\] separator = A: must be none or'
[ ! -s out ] || fail 'a result with a wrong setting'
settings
# Lost: the lot may have swallowed what follows.
bad ']C1011234567890123110LOT7717261130' '\(10\)'
bad ']C1011234567890123110LOT77172611307008COD700527.7.e' \
    '\(10\) .*a separator may be missing'

# Digital Link: dl.c of the GS1 Barcode Syntax Engine.
does --json scan https://a/01/12312312312333/22/TEST/10/ABC/21/XYZ
expect_out '"kind": "digital-link"'
expect_out '"valid": true'
expect_is "$(all value | tr '\n' ' ')" '12312312312333 TEST ABC XYZ '
expect_is "$(all ai | tr '\n' ' ')" '01 22 10 21 '
bad https://a/01/12312312312334 '\(01\) .*the check digit is 4 but should be 3'
bad https://a/01/12312312312333/21/XYZ/10/ABC '.'
bad https://a/01/12312312312333/10/A%4 '.'
bad https://fish.example/ '.'

# Our own codes and labels.
batch=26330-09$(check_of 2633009)
portion=001-H7$(check_of 001H7)
does --json scan "$batch"
expect_out '"kind": "batch"'
expect_is "$(get meaning)" "$batch"
does --json scan "$portion"
expect_out '"kind": "portion"'
expect_is "$(get meaning)" "$portion"
bad 26330-09D '.*check character'
bad 001-H7D '.*check character'
b=$(printf '%s' "$batch" | tr -d -)
q=$(printf '%s' "$portion" | tr -d -)
body=1000000${b}2611272359
for form in 91 ']d291' ']C191' '(91)' '[91]' "${gs}91"; do
	good "$form$body$(check_of "$body")" 'batch of this kitchen' \
	    "= $batch" '27 November 2026 23:59'
done
body=1$q${b}2611272359
does --json scan "]d291$body$(check_of "$body")"
expect_out '"kind": "portion"'
expect_out "\"meaning\": \"$portion\""
expect_out "\"meaning\": \"$batch\""
expect_out '27 November 2026 23:59'
case $(check_of "$body") in
A) wrong=C ;;
*) wrong=A ;;
esac
bad "91$body$wrong" '.*check character'
body=1$q${b}2611312359
bad "91$body$(check_of "$body")" '.'

# From standard input, one scan.
from()
{
	# shellcheck disable=SC2059
	printf "$1" >scan.in
	p scan - <scan.in
}

from '(01)12345678901231(10)12345\n'
expect_status 0
expect_no_err
expect_out 12345678901231
from ']C1011234567890123110AB\03517261130\r\n'
expect_status 0
expect_out '30 November 2026'
from ''
is_bad '.*empty'
from '\n'
is_bad '.'
from 'ABC\000DEF'
is_bad '.*NUL'
# The part in front of the NUL is right by itself.
from '4006381333931\000'
is_bad '.*NUL'
from '4006381333931\n4006381333931\n'
is_bad '.'
from '\377\376'
is_bad '.'
from ']C10112345678901231\007'
is_bad '.'
for size in 4097 5000 3000000; do
	head -c $size /dev/zero | tr '\0' 1 >scan.in
	p scan - <scan.in
	is_bad '.*at most 4096'
	[ "$(wc -c <out)" -lt 1000 ] || fail 'the whole scan came back'
done
bad "$(head -c 4097 /dev/zero | tr '\0' 1)" '.*at most 4096'
bad '' '.*empty'
bad ' ' '.'

# The command line.
p scan
expect_status 64
expect_one_line_err
p scan a b
expect_status 64
expect_one_line_err
does --csv scan '(01)12345678901231(10)12345'
expect_out 'ai,title,value,meaning'
expect_out '10,BATCH/LOT,12345,12345'
expect_no_file k.db
