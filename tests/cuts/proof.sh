#!/bin/sh
# Faults put in on purpose: each must be found.  Called by `make check-cuts`,
# which says how to compile and link.  ONLY="NAME..." takes some of them.
set -u
work=$BUILD/proof
mkdir -p "$work"
missed=0
found=0

# NAME FILE SED PART...: FILE with one change, and run_cuts PART must fail.
spoil() {
	name=$1 file=$2 change=$3
	shift 3
	case " ${ONLY-$name} " in *" $name "*) ;; *) return ;; esac
	sed "$change" "$file" >"$work/$name.c"
	if cmp -s "$file" "$work/$name.c"; then
		echo "proof: $name: the change fits nothing in $file" >&2
		missed=$((missed + 1))
		return
	fi
	old=$BUILD/${file%.c}.o
	objects=$(printf '%s\n' $OBJECTS | grep -vxF "$old")
	# The words are the compiler's own.
	# shellcheck disable=SC2086
	$COMPILE -Wno-error -w -MF "$work/$name.d" -c -o "$work/$name.o" \
	    "$work/$name.c" && $LINK -o "$work/$name" "$work/$name.o" \
	    $objects $LIBS || exit 2
	if "$work/$name" "$@" >"$work/$name.log" 2>&1; then
		echo "proof: $name: NOT found" >&2
		missed=$((missed + 1))
	else
		echo "proof: $name: found: $(head -n 1 "$work/$name.log")"
		found=$((found + 1))
	fi
	rm -f "$work/$name"
}

spoil never-synced src/store/store.c \
    's/synchronous = FULL/synchronous = OFF/' cuts 10
spoil synced-at-checkpoints src/store/store.c \
    's/synchronous = FULL/synchronous = NORMAL/' cuts 10
spoil sector-shared src/store/doubt.c 's/psow=0/psow=1/' cuts 4
spoil said-before-commit src/store/store.c \
    's/rc = run_script(st, "COMMIT", err);/rc = RC_OK;/
s/rc = run_script(st, "BEGIN IMMEDIATE", err);/ignore_rc(run_script(st, "COMMIT", NULL)); &/' \
    cuts 10
spoil log-removed-at-start src/store/store.c \
    's/if (!file_exists(path))/{ char log[1100]; str_fmt(log, sizeof(log), "%s-wal", path); unlink(log); } &/' \
    cuts 10
spoil file-not-synced src/base/file.c \
    's/if (fsync(f->fd) != 0)/if (0)/' cuts 2
spoil folder-not-synced src/base/file.c 's/^\tfsync(fd);//' cuts 2
# SQLite would sync it when the journal is changed.
spoil backup-not-synced src/store/copy.c \
    's/fsync(fd) != 0/0/
s/PRAGMA locking_mode = EXCLUSIVE/PRAGMA synchronous = OFF/' cuts 4
spoil doubt-not-told src/store/doubt.c \
    's/if (rc == RC_RETRY ||/if (1 ||/' faults 1 sync
spoil foreign-trigger src/store/shape.c 's/!is_ours(words)/0/' damage 400
spoil long-text src/store/stmt.c \
    's/if (n >= from \&\& n <= to)/if (1)/' damage 1500
echo "proof: $found faults put in on purpose found, $missed missed"
[ "$missed" -eq 0 ]
