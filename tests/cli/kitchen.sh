# kitchen.sh - an invented training station in the test's folder; sourced
# behind lib.sh.  Tables and settings come from the project's own config.
#
#	settings [LINE...]	write station.ini; each LINE replaces its key
#	kitchen			settings, station file, suppliers, menu, bookings
#	p ARGS...		run on that station at $day, $at
#	does ARGS...		p that must work without a word on stderr
#	refuses STATUS REGEX ARGS...
#				p that must fail: status, one line, that line,
#				and nothing recorded
#	has TOOL		or a skip is written down
day=2026-11-26
at=09:00

settings()
{
	sed -e 's/^training = .*/training = yes/' \
	    -e "s|^data_folder = .*|data_folder = $TOP/config|" \
	    "$TOP/config/station.ini" >station.ini
	for line in "$@"; do
		grep -q "^${line%%=*}=" station.ini ||
		    fail "no such setting: $line"
		sed "s|^${line%%=*}=.*|$line|" station.ini >station.new
		mv station.new station.ini
	done
}

p()
{
	run --config station.ini --db k.db --now "${day}T$at" "$@"
}

does()
{
	p "$@"
	expect_no_err
	expect_status 0
}

# The audit trail: every record adds a row, so it is the state.
mark()
{
	"$PINBONE" --config station.ini --db k.db --now "${day}T$at" \
	    --json log --last 100000 >"${1:-before}"
}

expect_unchanged()
{
	mark after
	cmp -s before after || fail 'something was recorded'
	pass
}

refuses()
{
	want=$1
	says=$2
	shift 2
	mark
	p "$@"
	expect_status "$want"
	expect_one_line_err
	expect_err "$says"
	expect_unchanged
	# Not a word as if it had worked.
	[ ! -s out ] || fail 'expected no output with an error'
}

# get KEY - first value of a key in the JSON of the last run.
get()
{
	sed -n "s/^ *\"$1\": \"\{0,1\}\([^\",]*\)\"\{0,1\},\{0,1\}\$/\1/p" out |
	    head -n 1
}

# all KEY - every value of it.
all()
{
	sed -n "s/^ *\"$1\": \"\{0,1\}\([^\",]*\)\"\{0,1\},\{0,1\}\$/\1/p" out
}

expect_is()
{
	[ "$1" = "$2" ] || fail "expected $2, seen $1 ${3:-}"
	pass
}

write_tables()
{
	cat >suppliers.csv <<'END'
code,name,address,approval,contact
gannet,Gannet Fish,"12 Slipway, North Quay",XX 1001,dispatch desk
END
	cat >menu.csv <<'END'
dish,name,state,species,cut,skin,bought,low,target,high,mix,allergens
cod-side,Cod with peas,raw,COD,fillet,off,whole,100,150,200,dinner:20 lunch:4,milk
plaice-crumb,Crumbed plaice,raw,PLE,fillet,off,whole,40,50,80,dinner:30,gluten
mussel-toast,Mussels on toast,cooked,MUS,meat,off,live,50,60,70,dinner:10,gluten
END
	cat >bookings.csv <<'END'
date,service,covers
2026-11-27,lunch,49
2026-11-27,dinner,50
END
}

kitchen()
{
	settings "$@"
	write_tables
	does init
	does import suppliers suppliers.csv
	does import menu menu.csv
	does import bookings bookings.csv
}

# take_in SPECIES PRESENTATION COUNT WEIGHT SUPPLIER_DATE [OPTIONS...] - goods
# in; a COUNT or date of - is left out.  Its code stays in $batch.
take_in()
{
	species=$1
	form=$2
	count=$3
	weight=$4
	until=$5
	shift 5
	[ "$count" = - ] || set -- --count "$count" "$@"
	[ "$until" = - ] || set -- --supplier-date "$until" "$@"
	case " $* " in
	*" --note "* | *" --refuse "*) ;;
	*) set -- --accept "$@" ;;
	esac
	does --json receive --by AK --supplier gannet --document N-1 \
	    --species "$species" --presentation "$form" --weight "$weight" \
	    --lot L-1 --temperature 1.5 --area 27.7.e --method caught "$@"
	batch=$(get code)
}

# check_of TEXT - its check character, worked out here as ISO/IEC 7064:2003
# sets out the hybrid system MOD 37,36 (procedure from memory).
check_of()
{
	printf '%s' "$1" | awk '{
		set = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
		p = 36
		for (i = 1; i <= length($0); i++) {
			s = (p + index(set, substr($0, i, 1)) - 1) % 36
			if (s == 0)
				s = 36
			p = s * 2 % 37
		}
		print substr(set, (37 - p) % 36 + 1, 1)
	}'
}

# A well-formed batch and portion code that nobody was given.
no_batch()
{
	for n in 90 91 92 93 94 95 96 97 98 99; do
		c=$(check_of 26330$n)
		case $c in
		[BGILOQSZ]) ;;
		*) echo 26330-$n$c && return ;;
		esac
	done
}

no_portion()
{
	for n in YYY00 YYY01 YYY02 YYY03 YYY04 YYY05 YYY06; do
		c=$(check_of $n)
		case $c in
		[BGILOQSZ]) ;;
		*) echo "$n$c" | sed 's/^.../&-/' && return ;;
		esac
	done
}

# has TOOL - for a check by a tool from outside; without it the check is
# written down as skipped, never as met.
has()
{
	command -v "$1" >/dev/null 2>&1 && return 0
	echo "skip: $1 is not installed" >>"$CLI_MET"
	return 1
}
