# Settings are read strictly: file, section, key and value in every error.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"

run config sample
expect_status 0
expect_no_err
expect_out_is <"$TOP/config/station.ini"

settings
run --config station.ini config check
expect_status 0
expect_no_err
expect_out 'station.ini: good; '
expect_out ' 2 services'

# bad REGEX LINE... - the settings with lines replaced or, where no key
# matches, put at the end are refused with the message.
bad()
{
	says=$1
	shift
	settings "$@"
	check "$says"
}

check()
{
	run --config station.ini config check
	expect_status 2
	expect_one_line_err
	expect_err "^pinbone: station\\.ini$1"
	[ ! -s out ] || fail 'expected no output with an error'
}

# also TEXT REGEX - lines put at the end of good settings.
also()
{
	settings
	printf '%s\n' "$1" >>station.ini
	check "$2"
}

bad ': \[station\] training = maybe: must be yes or no$' 'training = maybe'
bad ': \[station\] training = YES: must be yes or no$' 'training = YES'
bad ': \[station\] timezone: time zone "Mars/Base" is not installed' \
    'timezone = Mars/Base'
bad ': \[station\] kitchen = : must be text of 1 to 60 bytes$' 'kitchen ='
bad ': \[station\] kitchen = x{60}: must be text of 1 to 60 bytes$' \
    "kitchen = $(printf '%61s' | tr ' ' x)"
bad ': \[house life\] batch_days = four: must be a whole number from 1 to 10$' \
    'batch_days = four'
bad ': \[house life\] batch_days = 0: must be a whole number from 1 to 10$' \
    'batch_days = 0'
bad ': \[house life\] batch_days = 11: must be' 'batch_days = 11'
bad ': \[house life\] raw_days = 2\.5: must be a whole number' \
    'raw_days = 2.5'
bad ': \[house life\] raw_days = -1: must be' 'raw_days = -1'
bad ': \[house life\] raw_days = 99999999999999999999: must be' \
    'raw_days = 99999999999999999999'
bad ': \[house life\] live_days = : must be' 'live_days ='
bad ': \[goods in\] refuse_above_c = 41F: must be degrees Celsius' \
    'refuse_above_c = 41F'
bad ': \[goods in\] refuse_above_c = 9: must be degrees .* from -10 to 8$' \
    'refuse_above_c = 9'
bad ': \[goods in\] note_above_c is above refuse_above_c' 'note_above_c = 5.1'
bad ': \[label\] dpi = 600: must be one of: 203 300$' 'dpi = 600'
bad ': \[label\] dpi = 203 300: must be one of: 203 300$' 'dpi = 203 300'
bad ': \[label\] width_mm = 60 with height_mm = 25: labels are 60 x 40 or' \
    'height_mm = 25'
bad ': \[label\] width_mm = 50 with height_mm = 40: labels' 'width_mm = 50'
bad ': \[label\] gap_mm = 21: must be' 'gap_mm = 21'
bad ': \[label\] darkness_percent = 101: must be' 'darkness_percent = 101'
bad ': \[order\] round_up_g = 0: must be' 'round_up_g = 0'
bad ': \[service lunch\] starts = 25:00: must be a time such as' \
    'starts = 25:00'
bad ': \[service lunch\]: needs starts and a later ends$' 'ends = 11:59'
settings 'width_mm = 50' 'height_mm = 25' 'dpi = 300'
run --config station.ini config check
expect_status 0

also 'begins = 18:00' \
    ': \[service dinner\] begins = 18:00: unknown key: starts or ends$'
also '[weather]
rain = yes' ': \[weather\] rain = yes: unknown section or key$'
also '[house life]
freezer_days = 3' ': \[house life\] freezer_days = 3: unknown section or key$'
also '[house life]
batch_days = 9' ':[0-9]+: \[house life\] batch_days is given twice$'
also '[service brunch]' ': \[service brunch\]'
also '[service brunch]
starts = 10:00' ': \[service brunch\]: needs starts and a later ends$'
also '[service a/b]
starts = 10:00' ': \[service a/b\] starts = 10:00: a service name'
also 'no equals sign here' ': a line is neither'
also '[unclosed' ': a line is neither'
also "$(printf 'kitchen\351 = x')" ': not a UTF-8 text file$'

# A setting that has no default is named with what it is.
settings
grep -v '^timezone' station.ini >without
mv without station.ini
check ': \[station\] timezone is missing: IANA time zone'
settings
sed '/^\[service/,$d' station.ini >without
mv without station.ini
check ': no \[service NAME\] section'
settings
{ printf '# '; head -c 70000 /dev/zero | tr '\0' x; echo; } >>station.ini
run --config station.ini config check
expect_status 2
expect_one_line_err
expect_err 'station\.ini'

# Files that are not there, or are something else.
run --config none.ini config check
expect_status 4
expect_one_line_err
expect_err '^pinbone: none\.ini: No such file or directory$'
mkdir folder
run --config folder config check
expect_status 1
expect_one_line_err
expect_err '^pinbone: folder: Is a directory$'
: >empty.ini
run --config empty.ini config check
expect_status 2
expect_one_line_err
expect_err '^pinbone: empty\.ini: '
mkdir none
settings 'data_folder = none'
run --config station.ini config check
expect_status 4
expect_one_line_err
expect_err '^pinbone: none/species\.csv: No such file or directory$'
cp "$TOP/config/species.csv" none/
cp station.ini none/yields.csv
run --config station.ini config check
expect_status 2
expect_one_line_err
expect_err '^pinbone: none/yields\.csv:1:1: '
cat >none/yields.csv <<'END'
species,from,to,percent,low,high,verified,source
ZZZ,whole,fillet,40,40,40,no,memory
END
run --config station.ini config check
expect_status 2
expect_one_line_err
expect_err '^pinbone: none/yields\.csv(:2:1)?: species ZZZ is not in '

settings
run --config station.ini config
expect_status 64
expect_one_line_err
run --config station.ini config shred
expect_status 2
expect_one_line_err
expect_err 'config takes check or sample, not "shred"'

# An unknown key is the mistake, whatever its value looks like.
also 'favourite = red' ': \[service dinner\] favourite = red: unknown key'

# A printer nobody knows is found by the check, not by the first label.
bad '.*"?xyz"?' 'language = xyz'
bad '.*telex' 'address = telex:7'
bad '.*\[label\] font' 'font = none.ttf'

# --- more than one printer --------------------------------------------------

# A printer takes from the first what it does not say, wherever it stands.
settings
printf '[printer rolls]\ngap_mm = 0\nwidth_mm = 80\nask = no\n' >>station.ini
run --config station.ini config check
expect_status 0
expect_no_err
settings 'tickets = rolls'
run --config station.ini config check
expect_status 2
expect_err '\[printer\] tickets = rolls: there is no \[printer rolls\]'
printf '[printer rolls]\ngap_mm = 0\n' >>station.ini
run --config station.ini config check
expect_status 0
# A roll for receipts prints 48 mm; narrower there is none.
settings 'tickets = rolls'
printf '[printer rolls]\ngap_mm = 0\nwidth_mm = 48\n' >>station.ini
run --config station.ini config check
expect_status 0
sed 's/^width_mm = 48/width_mm = 47/' station.ini >narrow.ini
run --config narrow.ini config check
expect_status 2
expect_err 'width_mm = 47: must be a whole number from 48 to 120'
# Named on purpose for lists, a printer with labels is a mistake.
sed 's/^gap_mm = 0/gap_mm = 3\nheight_mm = 25/; s/^width_mm = 48/width_mm = 50/' \
    station.ini >labels.ini
run --config labels.ini config check
expect_status 2
expect_err '\[printer\] tickets = rolls: \[printer rolls\] has gap_mm = 3; lists need a continuous roll, gap_mm = 0'
settings 'tickets = main'
run --config station.ini config check
expect_status 0
also '[printer main]
gap_mm = 0' ': \[printer main\] gap_mm = 0: a printer.s name .* is not main'
also '[printer two words]
gap_mm = 0' ': \[printer two words\] gap_mm = 0: a printer.s name'
also '[printer rolls]
kitchen = Other' ': \[printer rolls\] kitchen = Other: no key of a printer'
also '[printer rolls]
dpi = 250' ': \[printer rolls\] dpi = 250: must be one of: 203 300'
also '[printer rolls]
width_mm = 80' ': \[printer rolls\] width_mm = 80 with height_mm = 40'
also '[printer rolls]
ask = loudly' ': \[printer rolls\] ask = loudly: must be one of: auto language'
also "$(for n in a b c d; do printf '[printer %s]\ngap_mm = 0\n' $n; done)" \
    ': \[printer d\] gap_mm = 0: more than 4 printers'
bad ': \[label\] gs1_prefix = 12A4567: must be 4 to 12 digits, or none$' \
    'gs1_prefix = 12A4567'
