# Pinbone: one Makefile, GNU make, no recursion, no configure step.
# `make help` prints the targets.

MODE ?= release
BUILD := build/$(MODE)

CC ?= gcc
PKG_CONFIG ?= pkg-config
VERSION := 0.1.0

# Where it is installed.
PREFIX ?= /usr/local
prefix ?= $(PREFIX)
bindir ?= $(prefix)/bin
datadir ?= $(prefix)/share
mandir ?= $(datadir)/man
localedir ?= $(datadir)/locale
sysconfdir ?= /etc
DATA = $(datadir)/pinbone
completionsdir ?= $(datadir)/bash-completion/completions
udevrulesdir ?= $(prefix)/lib/udev/rules.d
unitdir ?= $(prefix)/lib/systemd/system
sysusersdir ?= $(prefix)/lib/sysusers.d
tmpfilesdir ?= $(prefix)/lib/tmpfiles.d

# Debian packages: what the program links, and what the tests read with.
DEPS_RUN := gcc make pkg-config libsqlite3-dev libiniparser-dev libzint-dev \
	libfreetype-dev libpng-dev libjansson-dev \
	libsodium-dev libusb-1.0-0-dev libncurses-dev gettext \
	fonts-dejavu-core tzdata
DEPS_TEST := check libdmtx-dev libzbar-dev libcups2-dev libcupsimage2-dev \
	glpk-utils umockdev libumockdev-dev libglib2.0-dev libvterm-dev python3
DEPS_LINT := clang-format cppcheck
DEPS_VM := qemu-system-x86 busybox-static cpio xz-utils
DEPS_INSTALL := debootstrap mandoc
DEPS_BENCH := zint imagemagick sqlite3
DEPS_FUZZ := clang libclang-rt-14-dev
DEPS_VALGRIND := valgrind

comma := ,
PC_RUN := sqlite3 freetype2 libpng jansson libsodium libusb-1.0
PC_TEST := check libdmtx zbar
PC_USB := umockdev-1.0 gio-2.0

WARN := -Wall -Wextra -Wshadow -Wstrict-prototypes -Wmissing-prototypes \
	-Wpointer-arith -Wwrite-strings -Wcast-qual -Wformat=2 -Wvla -Wundef \
	-Wswitch-enum
CPPFLAGS += -D_POSIX_C_SOURCE=200809L -DPINBONE_VERSION='"$(VERSION)"' \
	-Iinclude -MMD -MP
CFLAGS ?= -O2 -g
HARDEN := -D_FORTIFY_SOURCE=2 -fstack-protector-strong -fPIE
ALL_CFLAGS = -std=c11 $(WARN) $(WERROR) $(CFLAGS) $(MODE_CFLAGS)
WERROR ?= -Werror

ifeq ($(MODE),asan)
MODE_CFLAGS := -O1 -fno-omit-frame-pointer -fsanitize=address,undefined \
	-fno-sanitize-recover=all
MODE_LDFLAGS := -fsanitize=address,undefined
else
MODE_CFLAGS := $(HARDEN)
MODE_LDFLAGS := -pie -Wl,-z,relro,-z,now
endif

# Asked for only when something is built, so that `make deps` works first.
PC_CFLAGS = $(shell $(PKG_CONFIG) --cflags $(PC_RUN))
# ncursesw's flags would ask for more than POSIX in every file.
PC_LIBS = $(shell $(PKG_CONFIG) --libs $(PC_RUN) ncursesw)
# Debian 12 ships no .pc file for these two.
LIBS = $(PC_LIBS) -liniparser -lzint -lm
TEST_CFLAGS = $(shell $(PKG_CONFIG) --cflags $(PC_TEST))
# Debian 12 ships no .pc file for libcups.
TEST_LIBS = $(shell $(PKG_CONFIG) --libs $(PC_TEST)) -lcups

SRC := $(wildcard src/*/*.c drivers/*.c)
OBJ := $(SRC:%.c=$(BUILD)/%.o) $(BUILD)/src/store/migrations.o
MAIN_OBJ := $(BUILD)/src/main.o
PROGRAM := $(BUILD)/pinbone

TEST_SRC := $(wildcard tests/unit/*.c)
YEARS_OBJ := $(patsubst %.c,$(BUILD)/%.o,$(wildcard tests/bench/years*.c))
TEST_OBJ := $(TEST_SRC:%.c=$(BUILD)/%.o) $(YEARS_OBJ)
RUN_UNIT := $(BUILD)/run_unit

# The real libusb on a bus that umockdev plays, so linked before it.
USB_SRC := $(wildcard tests/usb/*.c)
USB_OBJ := $(USB_SRC:%.c=$(BUILD)/%.o)
USB_WITH := $(patsubst %,$(BUILD)/tests/unit/%.o,kitchen queue_kitchen \
	lang_readers zpl_reader tspl_reader epl2_reader escpos_reader \
	pwg_reader)
RUN_USB := $(BUILD)/run_usb
USB_CFLAGS = $(shell $(PKG_CONFIG) --cflags $(PC_USB))
USB_LIBS = -Wl,--push-state,--no-as-needed -l:libumockdev-preload.so.0 \
	-Wl,--pop-state $(shell $(PKG_CONFIG) --libs $(PC_USB))

# bench_*.c is a program each, and so is make_years.c; the rest is shared by
# them, and by the tests.
BENCH_SRC := $(wildcard tests/bench/bench_*.c) tests/bench/make_years.c
BENCH := $(filter-out %/make_years,$(BENCH_SRC:tests/bench/%.c=$(BUILD)/%))
MAKE_YEARS := $(BUILD)/make_years
BENCH_WITH := $(filter-out $(BENCH_SRC),$(wildcard tests/bench/*.c)) \
	$(patsubst %,tests/unit/cut_%.c,boards judge pattern glpk child)
BENCH_OBJ := $(BENCH_WITH:%.c=$(BUILD)/%.o)

# Scripts of keys and scans on a desk without a terminal.
SCREENS_OBJ := $(patsubst %.c,$(BUILD)/%.o,$(wildcard tests/screens/*.c))
RUN_SCREENS := $(BUILD)/run_screens

# The program itself on a pseudo-terminal: tests/pty.
RUN_PTY := $(BUILD)/run_pty
PTY_LIBS = $(shell $(PKG_CONFIG) --libs vterm)
PTY_OBJ := $(patsubst %.c,$(BUILD)/%.o,$(wildcard tests/pty/*.c)) \
	$(BUILD)/tests/unit/cut_child.o

# Somebody who presses anything: tests/monkey.
MONKEY := $(BUILD)/monkey
MONKEY_OBJ := $(patsubst %.c,$(BUILD)/%.o,$(wildcard tests/monkey/*.c)) \
	$(YEARS_OBJ) $(patsubst %,$(BUILD)/tests/unit/%.o,sound cut_child)

# Power cuts, faults of the disk, kill -9: tests/cuts.  The program's own calls
# go past the disk that remembers.
RUN_CUTS := $(BUILD)/run_cuts
CUTS_OBJ := $(patsubst %.c,$(BUILD)/%.o,$(wildcard tests/cuts/*.c)) \
	$(BUILD)/tests/unit/sound.o
CUTS_LDFLAGS := $(patsubst %,-Wl$(comma)--wrap=%,open close write fsync \
	rename renameat2 unlink sqlite3_busy_timeout)

# Run inside a virtual machine: the USB suites on a real kernel's bus, and the
# kernel's own printer.
VM := $(BUILD)/vm_usb $(BUILD)/vm_gadget
VM_OBJ := $(patsubst %.c,$(BUILD)/%.o,$(wildcard tests/vm/*.c))
VM_USB_OBJ := $(filter-out %/vusb_mock.o %/vusb_usbfs.o,$(USB_OBJ)) \
	$(BUILD)/tests/vm/vusb_vhci.o

FUZZ_SRC := $(wildcard tests/fuzz/fuzz_*.c)
FUZZ_NAME := $(FUZZ_SRC:tests/fuzz/fuzz_%.c=%)
# The whole program, so that a target may be a screen.
FUZZ_OBJ := $(SRC:%.c=build/fuzz/obj/%.o) build/fuzz/obj/migrations.o \
	$(patsubst %,build/fuzz/obj/tests/fuzz/%.o,broken rig)
FUZZ_FLAGS := -std=c11 -g -O1 -fno-sanitize-recover=all
FUZZ_SECS ?= 60
REPLAY := $(FUZZ_NAME:%=$(BUILD)/replay_%)

# Messages: the table is the says_*.h headers and the names of days.  The
# catalogue in the tree is kept by `make messages`, and compiled for each
# language there is.
SAYS := $(sort $(wildcard src/*/says_*.h)) src/base/day.c
POT := src/screens/po/pinbone.pot
PO := $(wildcard src/screens/po/*.po)
MO := $(PO:src/screens/po/%.po=build/locale/%/LC_MESSAGES/pinbone.mo)
XGETTEXT := xgettext --language=C --from-code=UTF-8 --keyword \
	--keyword=N_ --keyword=NN_:1,2 --no-location --sort-output \
	--package-name=pinbone --msgid-bugs-address=README.md

SQL := $(sort $(wildcard src/store/sql/*.sql))

.PHONY: all demo check check-asan check-monkey check-cuts \
	check-valgrind check-vm unit cuts \
	screens pty monkey usb cli epcis messages replay \
	fuzz lint bench bench-demand install uninstall docs-made \
	check-install deps deps-run deps-test deps-lint \
	deps-fuzz deps-bench deps-valgrind format clean help

all: $(PROGRAM) $(MO)

$(PROGRAM): $(MAIN_OBJ) $(OBJ)
	$(CC) $(MODE_LDFLAGS) $(LDFLAGS) -o $@ $^ $(LIBS)

# The text of src/store after the preprocessor: every SQL statement in it is
# prepared by a test.
STORE_TEXT := $(BUILD)/store_text.i
$(STORE_TEXT): $(wildcard src/store/*.c src/store/*.h include/store/*.h)
	@mkdir -p $(@D)
	@for f in src/store/*.c; do \
	    $(CC) -E -D_POSIX_C_SOURCE=200809L -Iinclude -Isrc/store \
	        $(PC_CFLAGS) -std=c11 $$f || exit 1; done > $@
$(BUILD)/tests/unit/test_store_plans.o: CPPFLAGS += \
	-DSTORE_TEXT='"$(STORE_TEXT)"'

$(RUN_UNIT): $(TEST_OBJ) $(OBJ) | $(STORE_TEXT)
	$(CC) $(MODE_LDFLAGS) $(LDFLAGS) -o $@ $^ $(TEST_LIBS) $(LIBS)

$(RUN_USB): $(USB_OBJ) $(USB_WITH) $(OBJ)
	$(CC) $(MODE_LDFLAGS) $(LDFLAGS) -o $@ $^ $(USB_LIBS) $(TEST_LIBS) \
	    $(LIBS)

$(RUN_SCREENS): $(SCREENS_OBJ) $(OBJ)
	$(CC) $(MODE_LDFLAGS) $(LDFLAGS) -o $@ $^ $(LIBS)

$(BUILD)/tests/usb/%.o: tests/usb/%.c
	@mkdir -p $(@D)
	$(CC) $(CPPFLAGS) -iquote . $(PC_CFLAGS) $(TEST_CFLAGS) $(USB_CFLAGS) \
	    $(ALL_CFLAGS) -c -o $@ $<

$(BENCH) $(MAKE_YEARS): $(BUILD)/%: $(BUILD)/tests/bench/%.o $(BENCH_OBJ) $(OBJ)
	$(CC) $(MODE_LDFLAGS) $(LDFLAGS) -o $@ $^ $(BENCH_LIBS) $(LIBS)

$(BUILD)/bench_station: $(BUILD)/tests/pty/pty.o
$(BUILD)/bench_station: BENCH_LIBS = $(PTY_LIBS)

$(RUN_PTY): $(PTY_OBJ) $(OBJ)
	$(CC) $(MODE_LDFLAGS) $(LDFLAGS) -o $@ $^ $(PTY_LIBS) $(LIBS)

$(MONKEY): $(MONKEY_OBJ) $(OBJ)
	$(CC) $(MODE_LDFLAGS) $(LDFLAGS) -o $@ $^ $(LIBS)

$(RUN_CUTS): $(CUTS_OBJ) $(OBJ)
	$(CC) $(MODE_LDFLAGS) $(CUTS_LDFLAGS) $(LDFLAGS) -o $@ $^ $(LIBS)

$(BUILD)/tests/cuts/%.o: tests/cuts/%.c
	@mkdir -p $(@D)
	$(CC) $(CPPFLAGS) -iquote . $(PC_CFLAGS) $(ALL_CFLAGS) -c -o $@ $<

$(BUILD)/vm_usb: $(VM_USB_OBJ) $(USB_WITH) $(OBJ)
	$(CC) $(MODE_LDFLAGS) $(LDFLAGS) -o $@ $^ $(TEST_LIBS) $(LIBS)

$(BUILD)/vm_gadget: $(BUILD)/tests/vm/vm_gadget.o \
    $(BUILD)/tests/vm/gadget.o $(OBJ)
	$(CC) $(MODE_LDFLAGS) $(LDFLAGS) -o $@ $^ $(TEST_LIBS) $(LIBS)

$(BUILD)/replay_%: $(BUILD)/tests/fuzz/fuzz_%.o \
    $(BUILD)/tests/fuzz/replay.o $(BUILD)/tests/fuzz/broken.o \
    $(BUILD)/tests/fuzz/rig.o $(OBJ)
	$(CC) $(MODE_LDFLAGS) $(LDFLAGS) -o $@ $^ $(LIBS)

$(BUILD)/tests/%.o: tests/%.c
	@mkdir -p $(@D)
	$(CC) $(CPPFLAGS) -iquote . $(PC_CFLAGS) $(TEST_CFLAGS) $(ALL_CFLAGS) \
	    -c -o $@ $<

# Where settings and catalogues will be.
$(BUILD)/src/ops/station.o: CPPFLAGS += \
	-DPINBONE_SYSCONFDIR='"$(sysconfdir)"'
$(BUILD)/src/base/say.o: CPPFLAGS += \
	-DPINBONE_LOCALE='"$(localedir)"'

$(BUILD)/%.o: %.c
	@mkdir -p $(@D)
	$(CC) $(CPPFLAGS) $(PC_CFLAGS) $(ALL_CFLAGS) -c -o $@ $<

build/locale/%/LC_MESSAGES/pinbone.mo: src/screens/po/%.po
	@mkdir -p $(@D)
	msgfmt --check --output-file=$@ $<

# Bring the catalogue and its translations up to the table.
messages:
	$(XGETTEXT) --output=$(POT) $(SAYS)
	for f in $(PO); do msgmerge --quiet --update --backup=none \
	    --sort-output $$f $(POT) || exit 1; done

# The migrations become a C table.  The list file changes when a script is
# added or removed, which a wildcard alone would not notice.
$(BUILD)/src/store/sql.list: FORCE
	@mkdir -p $(@D)
	@printf '%s\n' $(SQL) | cmp -s - $@ || printf '%s\n' $(SQL) > $@

$(BUILD)/src/store/migrations.c: src/store/embed.awk $(SQL) \
    $(BUILD)/src/store/sql.list
	awk -f src/store/embed.awk $(SQL) > $@

$(BUILD)/src/store/migrations.o: $(BUILD)/src/store/migrations.c
	$(CC) $(CPPFLAGS) -Isrc/store $(ALL_CFLAGS) -c -o $@ $<

FORCE:

# --- what people run -------------------------------------------------------

demo: deps-run
	$(MAKE) --no-print-directory all
	demo/run.sh $(abspath $(PROGRAM)) demo/out

check: deps-run deps-test
	$(MAKE) --no-print-directory unit screens pty monkey usb cli epcis cuts \
	    replay

unit: $(RUN_UNIT) $(PROGRAM)
	PINBONE=$(PROGRAM) CK_TIMEOUT_MULTIPLIER=$(if $(filter asan,$(MODE)),8,2) \
	    $(RUN_UNIT)

pty: $(RUN_PTY) $(PROGRAM)
	$(RUN_PTY) $(PROGRAM)

# Short here; check-monkey is the long one.
monkey: $(MONKEY)
	$(MONKEY) 3000 1 2 3

check-monkey: deps-run
	$(MAKE) --no-print-directory MODE=asan build/asan/monkey
	build/asan/monkey 100000 1 2 3 4 5 6 7 8 9 10

# Some of every kind here; check-cuts is all of it, and the faults put in on
# purpose that it has to find.
cuts: $(RUN_CUTS)
	$(RUN_CUTS) quick

check-cuts: deps-run
	$(MAKE) --no-print-directory $(RUN_CUTS)
	$(RUN_CUTS) all
	CC='$(CC)' COMPILE='$(CC) $(CPPFLAGS) -iquote . -iquote src/store \
	    -Isrc/store $(PC_CFLAGS) $(ALL_CFLAGS)' \
	    LINK='$(CC) $(MODE_LDFLAGS) $(CUTS_LDFLAGS) $(LDFLAGS)' \
	    OBJECTS='$(CUTS_OBJ) $(OBJ)' LIBS='$(LIBS)' BUILD='$(BUILD)' \
	    tests/cuts/proof.sh

screens: $(RUN_SCREENS) $(PROGRAM) $(MO)
	$(RUN_SCREENS) $(PROGRAM) tests/screens
	tests/screens/manual.sh

usb: $(RUN_USB) $(PROGRAM)
	PINBONE=$(PROGRAM) CK_TIMEOUT_MULTIPLIER=$(if $(filter asan,$(MODE)),8,2) \
	    $(RUN_USB)

cli: $(PROGRAM)
	tests/cli/run.sh $(abspath $(PROGRAM))

# Exports against the published EPCIS 2.0 schema, with tools npm fetches into
# build/epcis.  Where they cannot be had it is skipped, and says so.
epcis: $(PROGRAM)
	tests/epcis/run.sh $(abspath $(PROGRAM)) build/epcis

# Every check is a fork: a heap of freed blocks kept for show makes each slow.
check-asan: deps-run deps-test
	ASAN_OPTIONS=quarantine_size_mb=8 \
	    $(MAKE) --no-print-directory MODE=asan unit screens pty monkey usb cuts cli replay

# The same USB code on a real kernel, in a virtual machine without any help
# from this machine's.  Where QEMU cannot be had it is skipped, and says so.
check-vm: deps-run deps-test
	-@tests/lint/deps.sh $(DEPS_VM)
	$(MAKE) --no-print-directory $(VM) $(PROGRAM)
	tests/vm/run.sh build/vm $(PROGRAM) $(VM)

# Without forks: a failed check ends the run, and each test would start anew.
# glib keeps what it allocated once, which is not lost but still reachable.
# Memory is filled: the test bed writes back only what differs, and what it does
# not write still counts as never written.  Of usb_spool one printer for each
# fault is enough here, and usb_program is another process.
VALGRIND := valgrind --quiet --malloc-fill=5a --error-exitcode=9 \
	--leak-check=full --errors-for-leak-kinds=definite \
	--show-leak-kinds=definite --child-silent-after-fork=yes \
	--suppressions=tests/usb/valgrind.supp
VALGRIND_UNIT := base_csv base_str config_ini drivers_ieee1284 \
	drivers_png drivers_transport drivers_zpl

check-valgrind: deps-run deps-test deps-valgrind
	$(MAKE) --no-print-directory $(RUN_USB) $(RUN_UNIT) $(PROGRAM)
	PINBONE=$(PROGRAM) CK_FORK=no CK_EXCLUDE_TAGS=long \
	    timeout 600 $(VALGRIND) $(RUN_USB)
	@for s in $(VALGRIND_UNIT); do \
	    CK_RUN_SUITE=$$s CK_FORK=no timeout 600 $(VALGRIND) $(RUN_UNIT) \
	        || exit 1; done

# Every input a fuzzer ever found worth keeping, without a fuzzer.
replay: $(REPLAY)
	@for t in $(FUZZ_NAME); do \
	    $(BUILD)/replay_$$t tests/fuzz/corpus/$$t/* || exit 1; done

build/fuzz/obj/%.o: %.c
	@mkdir -p $(@D)
	$(FUZZ_CC) $(CPPFLAGS) -iquote . $(PC_CFLAGS) $(FUZZ_FLAGS) \
	    -fsanitize=fuzzer-no-link,address,undefined -c -o $@ $<
build/fuzz/obj/src/ops/station.o: CPPFLAGS += -DPINBONE_SYSCONFDIR='"/etc"'
build/fuzz/obj/src/base/say.o: CPPFLAGS += -DPINBONE_LOCALE='"/nowhere"'
build/fuzz/obj/migrations.o: $(BUILD)/src/store/migrations.c
	@mkdir -p $(@D)
	$(FUZZ_CC) $(CPPFLAGS) -Isrc/store $(FUZZ_FLAGS) -c -o $@ $<

build/fuzz/%: build/fuzz/obj/tests/fuzz/fuzz_%.o $(FUZZ_OBJ)
	$(FUZZ_CC) -fsanitize=fuzzer,address,undefined -o $@ $^ $(LIBS)

FUZZ_CC ?= clang
.PRECIOUS: build/fuzz/obj/%.o

fuzz: deps-run deps-fuzz
	$(MAKE) --no-print-directory $(FUZZ_NAME:%=build/fuzz/%)
	@for t in $(FUZZ_NAME); do mkdir -p build/fuzz/new/$$t; \
	    dict=; [ ! -f tests/fuzz/$$t.dict ] || \
	        dict=-dict=tests/fuzz/$$t.dict; \
	    build/fuzz/$$t -max_total_time=$(FUZZ_SECS) -max_len=8192 $$dict \
	        -artifact_prefix=build/fuzz/$$t- build/fuzz/new/$$t \
	        tests/fuzz/corpus/$$t || exit 1; done

bench: deps-run deps-test deps-bench
	$(MAKE) --no-print-directory $(BENCH) all
	@for b in $(BENCH); do $$b || exit 1; done

# Targets by core/demand beside rules of thumb, in an invented house.
bench-demand: deps-run $(BUILD)/bench_demand
	$(BUILD)/bench_demand

lint: deps-lint deps-run
	tests/lint/run.sh

format:
	clang-format --style=file:tests/lint/clang-format -i \
	    $(SRC) src/main.c $(wildcard src/*/*.h include/*/*.h drivers/*.h \
	    tests/*/*.c tests/*/*.h)

deps: deps-run deps-test deps-lint

deps-run:
	@tests/lint/deps.sh $(DEPS_RUN)

deps-test:
	@tests/lint/deps.sh $(DEPS_TEST)

deps-lint:
	@tests/lint/deps.sh $(DEPS_LINT)

deps-bench:
	@tests/lint/deps.sh $(DEPS_BENCH)

deps-fuzz:
	@tests/lint/deps.sh $(DEPS_FUZZ)

deps-valgrind:
	@tests/lint/deps.sh $(DEPS_VALGRIND)

# --- install ----------------------------------------------------------------
# GNU's names; sysconfdir and localedir are also compiled in, so whoever changes
# them gives them to `make` and `make install` alike.
DOC := build/doc
MAN1 := $(DOC)/pinbone.1
MAN5 := $(DOC)/pinbone-settings.5
UNIT := $(DOC)/pinbone.service
SAMPLE := $(DOC)/station.ini
TABLES = $(filter-out config/station.ini,$(wildcard config/*.* config/rules/*))
FILL = awk -f docs/man/fill.awk -v VERSION=$(VERSION) \
	-v SYSCONFDIR=$(sysconfdir) -v DATA=$(DATA) -v BINDIR=$(bindir)
INSTALL_FILE = install -D -m 644
# What PREFIX and the rest were when the texts were made.
PLACES = $(PREFIX) $(bindir) $(DATA) $(sysconfdir)

$(DOC)/places: FORCE
	@mkdir -p $(@D)
	@printf '%s\n' '$(PLACES)' | cmp -s - $@ || \
	    printf '%s\n' '$(PLACES)' > $@

$(MAN1): docs/man/pinbone.1.in docs/man/fill.awk $(PROGRAM) $(DOC)/places
	$(PROGRAM) help man > $(DOC)/commands
	$(FILL) -v file_COMMANDS=$(DOC)/commands $< > $@

$(MAN5): docs/man/pinbone-settings.5.in docs/man/fill.awk \
    docs/man/settings.awk $(PROGRAM) $(DOC)/places
	$(PROGRAM) config sample > $(DOC)/sample
	awk -f docs/man/settings.awk $(DOC)/sample > $(DOC)/settings
	$(FILL) -v file_SETTINGS=$(DOC)/settings $< > $@

$(UNIT): config/systemd/pinbone.service.in docs/man/fill.awk $(DOC)/places
	$(FILL) $< > $@

# The sample finds the installed tables.
$(SAMPLE): $(PROGRAM) $(DOC)/places
	$(PROGRAM) config sample > $@.new
	sed 's|^data_folder = .*|data_folder = $(DATA)|' $@.new > $@

docs-made: $(MAN1) $(MAN5) $(UNIT) $(SAMPLE)

install: all docs-made
	install -D -m 755 $(PROGRAM) $(DESTDIR)$(bindir)/pinbone
	for f in $(TABLES:config/%=%); do \
	    $(INSTALL_FILE) config/$$f $(DESTDIR)$(DATA)/$$f || exit 1; done
	$(INSTALL_FILE) $(SAMPLE) $(DESTDIR)$(DATA)/station.ini
	$(INSTALL_FILE) $(MAN1) $(DESTDIR)$(mandir)/man1/pinbone.1
	$(INSTALL_FILE) $(MAN5) $(DESTDIR)$(mandir)/man5/pinbone-settings.5
	$(INSTALL_FILE) config/completion/pinbone.bash \
	    $(DESTDIR)$(completionsdir)/pinbone
	$(INSTALL_FILE) config/udev/70-pinbone.rules \
	    $(DESTDIR)$(udevrulesdir)/70-pinbone.rules
	$(INSTALL_FILE) $(UNIT) $(DESTDIR)$(unitdir)/pinbone.service
	$(INSTALL_FILE) config/systemd/sysusers.conf \
	    $(DESTDIR)$(sysusersdir)/pinbone.conf
	$(INSTALL_FILE) config/systemd/tmpfiles.conf \
	    $(DESTDIR)$(tmpfilesdir)/pinbone.conf
	for f in $(MO:build/locale/%=%); do $(INSTALL_FILE) \
	    build/locale/$$f $(DESTDIR)$(localedir)/$$f || exit 1; done

# Settings and the station file are nobody's to remove but the kitchen's.
uninstall:
	rm -f $(DESTDIR)$(bindir)/pinbone \
	    $(DESTDIR)$(mandir)/man1/pinbone.1 \
	    $(DESTDIR)$(mandir)/man5/pinbone-settings.5 \
	    $(DESTDIR)$(completionsdir)/pinbone \
	    $(DESTDIR)$(udevrulesdir)/70-pinbone.rules \
	    $(DESTDIR)$(unitdir)/pinbone.service \
	    $(DESTDIR)$(sysusersdir)/pinbone.conf \
	    $(DESTDIR)$(tmpfilesdir)/pinbone.conf \
	    $(DESTDIR)$(DATA)/station.ini \
	    $(TABLES:config/%=$(DESTDIR)$(DATA)/%) \
	    $(MO:build/locale/%=$(DESTDIR)$(localedir)/%)
	[ ! -d $(DESTDIR)$(DATA) ] || rmdir $(DESTDIR)$(DATA)/rules \
	    $(DESTDIR)$(DATA)

# From a bare Debian 12 to a station, in a folder of its own: docs/install.md.
check-install: deps-run
	-@tests/lint/deps.sh $(DEPS_INSTALL)
	tests/install/run.sh build/install || [ $$? = 77 ]

clean:
	rm -rf build demo/out

help:
	@echo 'make             build $(PROGRAM)'
	@echo 'make demo        install what is missing, build, play one day'
	@echo 'make check       install what is missing, build, run all tests'
	@echo 'make check-asan  the same tests under address and undefined-behaviour checks'
	@echo 'make check-monkey  a million random actions at the screens, under the same'
	@echo 'make check-cuts  power cuts, faults of the disk, kill -9, damaged files: all of it'
	@echo 'make check-vm    USB printers on a real kernel, in a virtual machine'
	@echo 'make check-valgrind  the USB tests and some others under memcheck'
	@echo 'make lint        layers, banned calls, sizes, headers, format, cppcheck'
	@echo 'make fuzz        look for new faults, FUZZ_SECS each target'
	@echo 'make bench       timings, as ratios measured side by side'
	@echo 'make bench-demand  rules for portion targets, side by side'
	@echo 'make deps        install every Debian package used here'
	@echo 'make install     everything under PREFIX (and DESTDIR): docs/install.md'
	@echo 'make uninstall   remove it; settings and station file stay'
	@echo 'make check-install  a bare Debian 12 in a folder becomes a station'
	@echo 'make format      clang-format in place'
	@echo 'make clean       remove build and demo/out'

-include $(OBJ:.o=.d) $(MAIN_OBJ:.o=.d) $(TEST_OBJ:.o=.d) \
	$(USB_OBJ:.o=.d) $(VM_OBJ:.o=.d) $(SCREENS_OBJ:.o=.d) \
	$(PTY_OBJ:.o=.d) $(MONKEY_OBJ:.o=.d) $(CUTS_OBJ:.o=.d) \
	$(wildcard $(BUILD)/tests/fuzz/*.d) \
	$(BENCH_SRC:%.c=$(BUILD)/%.d) $(BENCH_OBJ:.o=.d)
-include $(FUZZ_OBJ:.o=.d) $(FUZZ_NAME:%=build/fuzz/obj/tests/fuzz/fuzz_%.d)
