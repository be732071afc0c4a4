# settings.awk - what `pinbone config sample` prints, as the section SETTINGS of
# pinbone-settings(5): a head for each section, a paragraph for each key with
# the comment before it and the value it has when it is left out.
function roff(s)
{
	gsub(/\\/, "\\e", s)
	gsub(/-/, "\\-", s)
	if (s ~ /^[.']/)
		s = "\\&" s
	return s
}

function flush_text()
{
	if (text != "")
		print (begun ? ".PP\n" : "") text
	begun = 1
	text = ""
}

/^$/ { flush_text(); next }
/^#/ {
	sub(/^# ?/, "")
	text = text (text == "" ? "" : "\n") roff($0)
	next
}
/^\[/ {
	# A comment right before a section speaks of that section.
	kept = text
	text = ""
	print ".SS " roff($0)
	if (kept != "")
		print kept
	next
}
{
	at = index($0, " = ")
	print ".TP\n.BR " roff(substr($0, 1, at - 1)) " \" = " \
	    roff(substr($0, at + 3)) "\""
	print text == "" ? "\\&" : text
	text = ""
}
END { flush_text() }
