# code.awk - C text with comments and the insides of literals blanked.
#
# Prints "file<TAB>line<TAB>code" for every line, so that a word in a comment
# or in a message is never taken for a call.  A // comment is kept as it is.
FNR == 1 {
	comment = 0
}
{
	s = $0
	out = ""
	while (s != "") {
		if (comment) {
			i = index(s, "*/")
			if (i == 0)
				break
			s = substr(s, i + 2)
			comment = 0
			continue
		}
		if (!match(s, /["'\/]/)) {
			out = out s
			break
		}
		out = out substr(s, 1, RSTART - 1)
		s = substr(s, RSTART)
		if (substr(s, 1, 2) == "/*") {
			comment = 1
			out = out " "
			s = substr(s, 3)
		} else if (substr(s, 1, 2) == "//") {
			out = out s
			break
		} else if (substr(s, 1, 1) == "/") {
			out = out "/"
			s = substr(s, 2)
		} else {
			out = out literal()
		}
	}
	print FILENAME "\t" FNR "\t" out
}

# Step over the literal at the front of s; an #include keeps its name.
function literal(    quote, i, c, text)
{
	quote = substr(s, 1, 1)
	for (i = 2; i <= length(s); i++) {
		c = substr(s, i, 1)
		if (c == "\\")
			i++
		else if (c == quote)
			break
	}
	text = substr(s, 1, i)
	s = substr(s, i + 1)
	if (out ~ /^[ \t]*#[ \t]*include[ \t]*$/)
		return text
	return quote quote
}
