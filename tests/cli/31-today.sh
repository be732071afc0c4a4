# The day at a glance: services, what is left to make, what must be emptied.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"

settings
does init
does today
expect_out 'TODAY Thursday 26 November 2026'
expect_out 'no service in the next days'
expect_out 'expired        0 units, 0 portions; 0 batches'
rm -f k.db*

kitchen
mark
day=2026-11-27
does today
expect_out "$day/"
expect_out 'coming, '
expect_out 'portions to make'
does --csv today
expect_out 'service,covers,stage,to_make'
expect_out "$day/lunch"
does --json today
[ "$(get stage)" = coming ] || fail 'the service is not to come'
[ "$(get to_make)" -gt 0 ] || fail 'there is nothing to make'

# Late at night it is over until somebody closes it.
at=23:59
does today
expect_out 'over: close it'
expect_unchanged
