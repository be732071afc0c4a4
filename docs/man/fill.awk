# fill.awk - put files and values into a page: a line @NAME@ alone is replaced by
# the file given as file_NAME, @NAME@ within a line by the value NAME.
#	awk -f fill.awk -v VERSION=... -v file_COMMANDS=... PAGE
function put(file, line)
{
	while ((getline line < file) > 0)
		print line
	close(file)
}

$0 == "@COMMANDS@" { put(file_COMMANDS); next }
$0 == "@SETTINGS@" { put(file_SETTINGS); next }
{
	gsub(/@VERSION@/, VERSION)
	gsub(/@SYSCONFDIR@/, SYSCONFDIR)
	gsub(/@DATA@/, DATA)
	gsub(/@BINDIR@/, BINDIR)
	print
}
