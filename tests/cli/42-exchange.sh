# Records out and in: receiving, chain and EPCIS, of days, of all, of a code; the
# same cells to an independent reader (Python's csv and json modules), and back.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
. "$TOP/tests/epcis/story.sh"
story
mkdir stick

# py FILE... - an independent reader; its program comes on standard input.
py()
{
	python3 - "$@" >said 2>&1 || fail "$(cat said)"
	pass
}

# --- what may be asked ------------------------------------------------------

does export receiving stick
expect_out 'stick/pinbone-receiving-2026-11-28.csv: '
does export receiving 2026-11-26 stick
does export receiving 2026-11-25..2026-11-28 stick
expect_file stick/pinbone-receiving-2026-11-25_2026-11-28.csv
does export receiving all stick
does export receiving "$cod" stick
expect_file "stick/pinbone-receiving-$cod.csv"
does export chain "$tray" stick
expect_file "stick/pinbone-chain-$cod.csv"
does export chain all stick
does --json export epcis all stick
expect_is "$(get file)" stick/pinbone-epcis-all.jsonld
refuses 3 'already there' export epcis all stick
refuses 2 'the last day is before the first' \
    export chain 2026-11-28..2026-11-26 stick
refuses 2 'the last day' export chain 2026-11-26..tomorrow stick
refuses 2 'the first day' export chain ..2026-11-26 stick
refuses 2 'the day' export receiving 2026-02-30 stick
refuses 2 'neither days nor a code' export epcis yesterday stick
refuses 2 'is not a code' export epcis 12345 stick
refuses 4 "$(no_portion)" export epcis "$(no_portion)" stick
refuses 4 'is the stick in' export epcis all nowhere
refuses 2 'receiving, chain or epcis' export sold stick
refuses 2 'name what to export and the folder' export receiving
settings 'base = https://ref.gs1.org/ours/'
refuses 2 "these names are GS1's own" export epcis 2026-11-26 stick
settings 'base = kitchen'
refuses 2 'must be a URI' export epcis 2026-11-26 stick
settings 'gs1_prefix = 2000'
refuses 2 'gs1_prefix' export epcis 2026-11-26 stick
settings
ls stick | grep -q new- && fail 'a part was left behind'
pass

# --- what came in -----------------------------------------------------------

# The cells by Python's csv module (RFC 4180 dialect): every one as it was typed,
# behind the apostrophe that keeps a spreadsheet from running it.
ODD_LOT=$odd_lot ODD_DOCUMENT=$odd_document ODD_REASON=$odd_reason \
    COD=$cod PLE=$ple REFUSED=$refused STRUCK=$struck
export ODD_LOT ODD_DOCUMENT ODD_REASON COD PLE REFUSED STRUCK
py stick/pinbone-receiving-all.csv <<'END'
import csv, os, sys
raw = open(sys.argv[1], 'rb').read()
assert raw.count(b'\r\n') == raw.count(b'\n'), 'RFC 4180: CRLF'
rows = list(csv.DictReader(raw.decode('utf-8').splitlines(True), strict=True))
assert len(rows) == 4, len(rows)
by = {r['batch']: r for r in rows}
e = os.environ
cod, ple = by[e['COD']], by[e['PLE']]
off = lambda s: s[1:] if s[:1] == "'" and s.lstrip("'")[:1] in '=+-@\t\r\n' \
    and s.lstrip("'") else s
# 21 CFR 1.1345(a)(1)-(8), each of them.
want = {
    'lot': 'L-1', 'quantity': '6.400', 'unit': 'kg', 'species': 'COD',
    'name': 'Cod', 'scientific_name': 'Gadus morhua', 'supplier_name':
    'Gannet Fish', 'supplier_address': '12 Slipway, North Quay',
    'received_at': 'Harbour Kitchen', 'received': '2026-11-26T09:00:00+00:00',
    'document': 'N-1', 'dispatched': '2026-11-25', 'caught': '2026-11-24',
    'area': '27.7.e', 'method': 'caught', 'gear': 'Trawls', 'fish': '8',
    'temperature_c': '1.5', 'supplier_use_by': '2026-12-02',
    'decision': 'accepted', 'struck': 'no', 'missing_21_cfr_1_1345': 'none',
    'missing_eu_931_2011': 'none', 'missing_eu_1379_2013': 'none',
}
for k, v in want.items():
    assert cod[k] == v, (k, cod[k], v)
# The odd ones: a formula is text, a temperature below 0 is a number.
assert ple['lot'] == "'" + e['ODD_LOT'], ple['lot']
assert off(ple['lot']) == e['ODD_LOT']
assert ple['document'] == e['ODD_DOCUMENT']
assert off(ple['note']) == e['ODD_REASON']
assert ple['supplier_name'] == "'s Hand, O'Neill & Söhne", ple['supplier_name']
assert off(ple['supplier_address']) == '=1+1, "The Slip", Quay'
assert float(ple['temperature_c']) == -0.5
assert ple['supplier_contact'] == '-7'
# Reg. (EU) 931/2011 Art. 3(1)(h): dispatch; 1379/2013 Art. 35(1)(c): gear.
assert ple['missing_eu_931_2011'] == 'h' and 'c' in ple['missing_eu_1379_2013']
assert by[e['REFUSED']]['decision'] == 'refused'
assert by[e['STRUCK']]['struck'] == 'yes'
for r in rows:
    for v in r.values():
        assert v[:1] not in '=+@\t\r' or v == '', v
        assert v[:1] != '-' or float(v) < 0, v
assert [r['received'] for r in rows] == sorted(r['received'] for r in rows)
END

# --- back: does a table say what the record says? ----------------------------

table=stick/pinbone-receiving-all.csv
does export --check "$table"
expect_out '4 rows: 4 say what the record says; 0 of batches that are not in it, 0 twice; 0 batches of those days are not in the file'
# Through a spreadsheet: columns turned round, LF, 1.500 shown as 1.5.
py "$table" <<'END'
import csv, sys
rows = list(csv.reader(open(sys.argv[1], newline='', encoding='utf-8')))
out = csv.writer(open('turned.csv', 'w', newline='', encoding='utf-8'),
    lineterminator='\n', quoting=csv.QUOTE_ALL)
q = rows[0].index('quantity')
for i, r in enumerate(rows):
    if i:
        r[q] = r[q].rstrip('0').rstrip('.')
    out.writerow(r[::-1])
END
does export --check turned.csv
expect_out '4 rows: 4 say'

# changed NAME STATUS FROM TO - one thing wrong in it.
changed()
{
	sed "$2" "$table" >"$1.csv"
	cmp -s "$1.csv" "$table" && fail "$1: nothing was changed"
	p export --check "$1.csv"
	expect_status 3
	expect_one_line_err
	expect_err "^pinbone: $1.csv: does not say what the record says\$"
}
changed weight 's/6\.400/6.401/'
expect_out "line 2, $cod, quantity: the file says \"6.401\", the record \"6.400\""
expect_out '4 rows: 3 say what the record says'
changed lot "s/'=L/=L/; s/½/¼/"
expect_out ", $ple, lot: "
changed day 's/,2026-11-24,/,2026-11-23,/'
expect_out "$cod, caught: the file says \"2026-11-23\", the record \"2026-11-24\""
changed struck 's/,yes,AK/,no,AK/'
expect_out "$struck, struck: "
changed gone 2d
expect_out '3 rows: 3 say what the record says; 0 of batches that are not in it, 0 twice; 1 batches of those days are not in the file'
changed twice 2p
expect_out '5 rows: 5 say what the record says; 0 of batches that are not in it, 1 twice; 0 batches'
# Twice in it does not make up for one that is gone.
changed instead '2p; 3d'
expect_out '1 twice; 1 batches of those days are not in the file'
other=$(echo "$cod" | cut -c 1-5)-99$(check_of "$(echo "$cod" | cut -c 1-5)99")
changed unknown "2s/$cod/$other/"
expect_out '1 of batches that are not in it'
p --json export --check unknown.csv
expect_status 3
expect_is "$(get unknown)" 1
mark
for bad in '2s/6\.400/six/' '2s/,kg,/,lb,/' '2s/accepted/taken/' \
    '2s/,no,/,perhaps,/' '2s/+00:00,/,/' '2s/2026-11-24/24.11.2026/' \
    "2s/$cod/$tray/" '1s/batch/code/' '2s/,1\.5,/,1.55,/' '2s/,whole,/,half,/'; do
	sed "$bad" "$table" >bad.csv
	cmp -s bad.csv "$table" && fail "$bad: nothing was changed"
	p export --check bad.csv
	expect_status 2
	expect_one_line_err
	expect_err '^pinbone: bad.csv:[12]:[0-9]+: '
done
expect_unchanged
refuses 4 'nowhere.csv' export --check nowhere.csv
refuses 2 'takes no other words' export --check "$table" stock

# --- what happened ------------------------------------------------------------

TRAY=$tray
export TRAY
py stick/pinbone-chain-all.csv <<'END'
import csv, os, sys
raw = open(sys.argv[1], 'rb').read()
assert raw.count(b'\r\n') == raw.count(b'\n')
rows = list(csv.DictReader(raw.decode('utf-8').splitlines(True), strict=True))
e = os.environ
assert [r['at'] for r in rows] == sorted(r['at'] for r in rows)
what = {r['what'] for r in rows}
assert what == {'received', 'refused', 'breakdown', 'made', 'trim', 'frames',
    'waste', 'unexplained', 'frozen', 'thawed', 'held', 'released', 'used', 'discarded',
    'batch discarded', 'missing', 'found'}, what
# Grams of each breakdown that happened: what went in came out.
for n in {r['breakdown'] for r in rows if r['breakdown']}:
    g = lambda w: sum(int(r['weight_g']) for r in rows
        if r['breakdown'] == n and r['what'] in w)
    assert g({'breakdown'}) == g({'made', 'trim', 'frames', 'waste',
        'unexplained'}), n
assert [(r['breakdown'], r['weight_g']) for r in rows if r['what'] ==
    'unexplained'] == [('1', '28'), ('2', '40')]
t = [r for r in rows if r['portion'] == e['TRAY']]
assert [(r['what'], r['servings'], r['left']) for r in t] == [
    ('made', '2', ''), ('frozen', '2', '2'), ('thawed', '2', '2'),
    ('used', '1', '1'), ('used', '1', '0')], t
assert t[1]['temperature_c'] == '-20.5'
# What was made is used, binned, or was taken back: nothing is left.
undone = [r for r in rows if r['undone']]
assert {r['what'] for r in undone} == {'received', 'breakdown', 'made',
    'waste', 'used'}
odd = [r for r in rows if e['ODD_REASON'] in r['reason']]
assert len(odd) == 3 and all(r['reason'] == "'" + e['ODD_REASON'] for r in odd)
END
# A batch's own: nothing of another.
does --json export chain "$ple" stick
py stick/pinbone-chain-$ple.csv stick/pinbone-chain-all.csv <<'END'
import csv, os, sys
a, b = (list(csv.DictReader(open(n, newline='', encoding='utf-8')))
    for n in sys.argv[1:])
assert a and all(r in b for r in a)
assert {r['batch'] for r in a} == {os.environ['PLE'], ''}
END

# --- EPCIS --------------------------------------------------------------------
# The schema is held against it by tests/epcis; here by Python's json module
# which event became which words.

does export epcis 2026-11-26 stick
# A reader of one day hears later that something of it was taken back.
at=09:00
day=2026-11-29
take_in COD whole 2 1600 2026-12-02
at=23:50
does --json prep "$batch" --by AK --fish 1 --weight 800 \
    --make cod-side:2:280 --waste 520
night=$(get code)
day=2026-11-30
at=00:05
does undo --yes --by AK --reason 'wrong day'
does export epcis 2026-11-30 stick
does export epcis 2026-11-29 stick
NIGHT=$night
export NIGHT
py stick/pinbone-epcis-2026-11-26.jsonld stick/pinbone-epcis-2026-11-30.jsonld \
    stick/pinbone-epcis-2026-11-29.jsonld <<'END'
import json, os, sys
docs = [json.load(open(n, encoding='utf-8')) for n in sys.argv[1:]]
ev, late, night = (d['epcisBody']['eventList'] for d in docs)
e = os.environ
words = [(x['type'], x.get('action'), x['bizStep'], x.get('disposition'),
    'errorDeclaration' in x) for x in ev]
O, T = 'ObjectEvent', 'TransformationEvent'
assert words == [
    (O, 'ADD', 'receiving', 'in_progress', False),
    (O, 'ADD', 'receiving', 'in_progress', False),
    (O, 'OBSERVE', 'inspecting', 'non_conformant', False),
    (O, 'ADD', 'receiving', 'in_progress', True),
    (T, None, 'commissioning', 'active', False),
    (T, None, 'commissioning', 'active', False),
    (T, None, 'commissioning', 'active', False),
    (T, None, 'commissioning', 'active', True),
    (O, 'OBSERVE', 'storing', 'in_progress', False),
    (O, 'OBSERVE', 'holding', 'unavailable', False),
    (O, 'OBSERVE', 'holding', 'unavailable', False),
    (O, 'OBSERVE', 'inspecting', 'available', False),
    (O, 'DELETE', 'dispensing', 'dispensed', False),
    (O, 'DELETE', 'dispensing', 'dispensed', True),
    (O, 'DELETE', 'destroying', 'destroyed', False),
    (O, 'DELETE', 'destroying', 'destroyed', False),
    (O, 'OBSERVE', 'stock_taking', 'mismatch_instance', False),
    (O, 'OBSERVE', 'stock_taking', 'available', False),
], words
r = ev[1]
assert r['ilmd']['cbvmda:lotNumber'] == e['ODD_LOT']
assert r['ilmd']['pinbone:note'] == e['ODD_REASON']
assert r['bizTransactionList'][0]['bizTransaction'].endswith(
    '#document/o-neill/N%2F1%20%232%3F%C3%A4')
assert r['quantityList'] == [{'epcClass': r['quantityList'][0]['epcClass'],
    'quantity': 2.0, 'uom': 'KGM'}]
assert r['sensorElementList'][0]['sensorReport'][0]['value'] == -0.5
t = ev[4]
assert t['outputEPCList'][0].endswith('#unit/' + e['TRAY'])
assert t['inputQuantityList'][0]['epcClass'].endswith('#batch/' + e['COD'])
assert [(q['epcClass'].split('#')[1], q['quantity']) for q in
    t['outputQuantityList']] == [('breakdown/1-trim', 0.1),
    ('breakdown/1-frames', 0.25), ('breakdown/1-waste', 0.15),
    ('breakdown/1-unexplained', 0.028)]
d = ev[13]['errorDeclaration']
assert d['reason'] == 'did_not_occur' and d['pinbone:reason'] == 'wrong tray'
# Told again with its declaration, under the id it has in its own day.
assert len(late) == 1 and late[0]['type'] == T, late
assert late[0]['errorDeclaration']['declarationTime'] == \
    '2026-11-30T00:05:00+00:00'
assert late[0]['outputEPCList'][0].endswith(e['NIGHT'])
assert late[0] == night[-1]
END
# The same record, the same document, but for when it was made.
mkdir again
does export epcis 2026-11-26 again
cmp -s again/pinbone-epcis-2026-11-26.jsonld \
    stick/pinbone-epcis-2026-11-26.jsonld && fail 'no other time'
sed 's/"creationDate":"[^"]*"//' again/pinbone-epcis-2026-11-26.jsonld >one
sed 's/"creationDate":"[^"]*"//' stick/pinbone-epcis-2026-11-26.jsonld >two
cmp one two || fail 'the same events differ'
pass

# The kitchen may be called otherwise: everything in it keeps its name.
settings 'kitchen = The Other Quay'
does export epcis 2026-11-26 again --replace
sed 's/"creationDate":"[^"]*"//; s/Harbour Kitchen//; s/The Other Quay//' \
    again/pinbone-epcis-2026-11-26.jsonld >one
sed 's/Harbour Kitchen//' two | cmp - one || fail 'other names'
pass
settings

# --- every table there is, by another reader ----------------------------------

for kind in stock yields waste audit chain receiving; do
	does export $kind stick --replace
done
does export day 2026-11-26 stick
does export trace "$cod" stick
does export audit stick --replace
py stick/*.csv <<'END'
import csv, sys
for name in sys.argv[1:]:
    raw = open(name, 'rb').read()
    rows = list(csv.reader(raw.decode('utf-8').splitlines(True), strict=True))
    assert len(set(map(len, rows))) == 1, (name, set(map(len, rows)))
    assert raw.endswith(b'\r\n'), name
    assert len(set(rows[0])) == len(rows[0]), name
    for row in rows[1:]:
        for v in row:
            assert v[:1] not in ('=', '+', '@', '\t', '\r', '\n'), (name, v)
            if v[:1] == '-':
                float(v)
END
