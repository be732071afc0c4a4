# Numbered .sql scripts -> a C table of migrations (store/migration.h).
BEGIN {
	print "/* Generated from src/store/sql; do not edit. */"
	print "#include \"migration.h\""
	print ""
	print "const struct migration migrations[] = {"
}
FNR == 1 {
	if (open)
		print "\t\t\"\" },"
	name = FILENAME
	sub(/^.*\//, "", name)
	version = substr(name, 1, 4) + 0
	printf "\t{ %d, \"%s\",\n", version, name
	open = 1
}
{
	gsub(/\\/, "\\\\")
	gsub(/"/, "\\\"")
	printf "\t\t\"%s\\n\"\n", $0
}
END {
	if (open)
		print "\t\t\"\" },"
	print "\t{ 0, NULL, NULL },"
	print "};"
}
