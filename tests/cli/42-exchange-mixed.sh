# Records out where food of several batches is on one board or tray, a breakdown
# is on hold, and goods are recalled.
. "$TOP/tests/cli/lib.sh"
. "$TOP/tests/cli/kitchen.sh"
. "$TOP/tests/epcis/story.sh"
kitchen
more
mkdir stick
NEW=$new OTHER=$other FIRST=$first SECOND=$second THIRD=$third FOURTH=$fourth \
    JOINED=$joined APART=$apart
export NEW OTHER FIRST SECOND THIRD FOURTH JOINED APART

for what in all "$new" "$other" "$joined"; do
	does export chain "$what" stick --replace
	does export epcis "$what" stick --replace
done
python3 - "$new" "$other" >said 2>&1 <<'END' || fail "$(cat said)"
import csv, json, os, sys
e = os.environ
new, other = sys.argv[1:]

def chain(what):
    return list(csv.DictReader(open('stick/pinbone-chain-%s.csv' % what,
        newline='', encoding='utf-8'), strict=True))

def events(what):
    return json.load(open('stick/pinbone-epcis-%s.jsonld' % what,
        encoding='utf-8'))['epcisBody']['eventList']

name = lambda u: u.split('/')[-1]
rows, ev = chain('all'), events('all')
# Both batches stand before the breakdown of both, each with its grams.
both = [(r['batch'], r['fish'], r['weight_g']) for r in rows
    if r['what'] == 'breakdown' and r['breakdown'] == '2']
assert both == [(new, '1', '800'), (other, '1', '700')], both
# A tray put together is not made twice: grams of a breakdown still add up.
for n in '1', '2':
    g = lambda w: sum(int(r['weight_g']) for r in rows
        if r['breakdown'] == n and r['what'] in w)
    assert g({'breakdown'}) == g({'made', 'trim', 'waste', 'unexplained'}), n
put = [(r['portion'], r['into'], r['servings'], r['undone'] != '')
    for r in rows if r['what'] == 'combined']
assert put == [(e['FIRST'], e['JOINED'], '1', False),
    (e['SECOND'], e['JOINED'], '1', False),
    (e['THIRD'], e['JOINED'], '2', False),
    (e['FOURTH'], e['APART'], '2', True),
    (e['JOINED'], e['APART'], '4', True)], put
grams = {r['portion']: int(r['weight_g']) for r in rows if r['what'] == 'made'}
assert grams[e['JOINED']] == sum(int(r['weight_g']) for r in rows
    if r['into'] == e['JOINED'])

trays = [x for x in ev if x['bizStep'] == 'repackaging']
assert [[name(u) for u in x['inputEPCList']] for x in trays] == [
    [e['FIRST'], e['SECOND'], e['THIRD']], [e['FOURTH'], e['JOINED']]]
assert [name(x['outputEPCList'][0]) for x in trays] == [e['JOINED'], e['APART']]
assert ['errorDeclaration' in x for x in trays] == [False, True]
made = [name(u) for x in ev if x['bizStep'] == 'commissioning'
    for u in x['outputEPCList']]
assert sorted(made) == sorted([e['FIRST'], e['SECOND'], e['THIRD'],
    e['FOURTH']]), made
# On hold with its breakdown: what is on its trays, and no tray that never was.
held = [x for x in ev if x['bizStep'] == 'holding']
assert [name(u) for u in held[0]['epcList']] == [e['THIRD'], e['FOURTH'],
    e['JOINED']], held[0]['epcList']
free = [x for x in ev if x['bizStep'] == 'inspecting']
assert free[0]['epcList'] == held[0]['epcList']
assert [x['disposition'] for x in held] == ['unavailable', 'recalled']
assert name(held[1]['quantityList'][0]['epcClass']) == other
# From either batch: the board, the tray, the hold; the recall from its own.
for what, recalls in (new, 0), (other, 1):
    mine = events(what)
    assert all(x in ev for x in mine)
    steps = [x['bizStep'] for x in mine]
    assert steps.count('repackaging') == 2 and steps.count('holding') == \
        1 + recalls, steps
    assert all(r in rows for r in chain(what))
END
pass
