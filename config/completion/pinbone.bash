# Completion of pinbone's command line in bash.  It knows no command by name:
# every word comes from `pinbone help words`.
_pinbone()
{
	local cur prev line name words options all common i word value
	local program=${COMP_WORDS[0]}

	COMPREPLY=()
	cur=${COMP_WORDS[COMP_CWORD]}
	prev=${COMP_WORDS[COMP_CWORD-1]}
	all=$("$program" help words 2>/dev/null) || return 0
	common=${all%%$'\n'*}
	common=${common##*$'\t'}
	name=
	words=
	options=
	i=1
	# The command: the first word that is no option, nor an option's value.
	while [ "$i" -lt "$COMP_CWORD" ]; do
		word=${COMP_WORDS[i]}
		case $word in
		--*=*) ;;
		--*) case " $common " in *" $word="*) i=$((i + 1)) ;; esac ;;
		*)
			name=$word
			break
			;;
		esac
		i=$((i + 1))
	done
	if [ -n "$name" ]; then
		line=$(grep "^$name	" <<<"$all") || return 0
		line=${line#*$'\t'}
		words=${line%%$'\t'*}
		options=${line#*$'\t'}
	fi
	# The value of an option: files and folders, or words to choose from.
	value=
	for word in $common $options; do
		[ "${word%%=*}" != "$prev" ] || value=${word#"$prev"}
	done
	case $value in
	=FOLDER)
		compopt -o filenames 2>/dev/null
		mapfile -t COMPREPLY < <(compgen -d -- "$cur")
		return 0
		;;
	=FILE)
		compopt -o filenames 2>/dev/null
		mapfile -t COMPREPLY < <(compgen -f -- "$cur")
		return 0
		;;
	=*) return 0 ;;
	esac
	case $cur in
	-*)
		options="$common $options"
		words=
		for word in $options; do
			words="$words ${word%%=*}"
		done
		mapfile -t COMPREPLY < <(compgen -W "$words" -- "$cur")
		return 0
		;;
	esac
	if [ -z "$name" ]; then
		words=$(tail -n +2 <<<"$all" | cut -f 1)
		mapfile -t COMPREPLY < <(compgen -W "$words" -- "$cur")
		return 0
	fi
	compopt -o filenames 2>/dev/null
	mapfile -t COMPREPLY < <(compgen -W "$words" -- "$cur"
	    compgen -f -- "$cur")
}
complete -F _pinbone pinbone
