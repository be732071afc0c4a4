/*
 * validate.js - EPCIS documents against the published EPCIS 2.0 JSON schema,
 * with an independent validator and an independent reader of JSON.
 *
 *	node validate.js TOOLS DOCUMENT...
 *
 * TOOLS is the folder tests/epcis/fetch.sh filled.  Besides the schema, which
 * asks for the words of CBV where they are bare, it is held that every
 * identifier is an absolute URI of printable ASCII, no event id occurs twice,
 * and what a transformation takes is what it gives, to the gram.
 *
 * Before that the validator is shown to bite: each document of `bad` is a valid
 * one with one thing wrong, and must be refused.
 */
'use strict';
const fs = require('fs');
const path = require('path');

const tools = path.resolve(process.argv[2]);
const need = (name) => require(path.join(tools, 'node_modules', name));
const Ajv = need('ajv');
const addFormats = need('ajv-formats');
const schema = JSON.parse(fs.readFileSync(
    path.join(tools, 'package/src/schema/EPCISDocument.schema.json')));
const ajv = new Ajv({ strict: false, allErrors: true });
addFormats(ajv);
const check = ajv.compile(schema);

let failed = 0;
let seen = 0;

function
fail(what)
{
	failed++;
	console.log('FAIL ' + what);
}

/* --- does it bite? -------------------------------------------------------- */

const document = (event) => ({
	'@context': [
		'https://ref.gs1.org/standards/epcis/2.0.0/epcis-context.jsonld',
		{ ex: 'http://ns.example.com/kitchen/' },
	],
	type: 'EPCISDocument',
	schemaVersion: '2.0',
	creationDate: '2026-11-25T08:05:00Z',
	epcisBody: { eventList: [event] },
});
const object = () => ({
	type: 'ObjectEvent',
	action: 'ADD',
	bizStep: 'receiving',
	disposition: 'in_progress',
	eventTime: '2026-11-25T08:05:00Z',
	eventTimeZoneOffset: '+00:00',
	quantityList: [{
		epcClass: 'urn:example:batch:B26329A', quantity: 6.2,
		uom: 'KGM',
	}],
	ilmd: { 'ex:species': 'COD' },
});
const transformation = () => ({
	type: 'TransformationEvent',
	bizStep: 'commissioning',
	eventTime: '2026-11-25T10:05:00Z',
	eventTimeZoneOffset: '+00:00',
	inputQuantityList: [{
		epcClass: 'urn:example:batch:B26329A', quantity: 1.8,
		uom: 'KGM',
	}],
	outputEPCList: ['urn:example:portion:P0000123'],
});
const but = (make, change) => {
	const event = make();

	change(event);
	return document(event);
};
const bad = {
	'no action': but(object, (e) => delete e.action),
	'no time': but(object, (e) => delete e.eventTime),
	'no offset': but(object, (e) => delete e.eventTimeZoneOffset),
	'an offset that is none': but(object,
	    (e) => { e.eventTimeZoneOffset = '+15:00'; }),
	'a step that is no word': but(object, (e) => { e.bizStep = 'slicing'; }),
	'a state that is no word': but(object,
	    (e) => { e.disposition = 'eaten'; }),
	'a word of our own under a name of GS1': but(object,
	    (e) => { e.bizStep = 'urn:epcglobal:cbv:bizstep:slicing'; }),
	'an identifier that is no URI': but(object,
	    (e) => { e.quantityList[0].epcClass = 'B26329A'; }),
	'a unit that is none': but(object,
	    (e) => { e.quantityList[0].uom = 'kilo'; }),
	'something else beside a quantity': but(object,
	    (e) => { e.quantityList[0]['ex:lot'] = 'L'; }),
	'a lot where nothing is added': but(object,
	    (e) => { e.action = 'OBSERVE'; }),
	'a correction without its time': but(object,
	    (e) => { e.errorDeclaration = { reason: 'did_not_occur' }; }),
	'a key without a name space': but(object, (e) => { e.servings = 2; }),
	'a breakdown of nothing': but(transformation,
	    (e) => delete e.inputQuantityList),
	'a breakdown into nothing': but(transformation,
	    (e) => delete e.outputEPCList),
	'a breakdown with an action': but(transformation,
	    (e) => { e.action = 'ADD'; }),
	'no version': (() => {
		const d = document(object());

		delete d.schemaVersion;
		return d;
	})(),
	'no list': (() => {
		const d = document(object());

		delete d.epcisBody.eventList;
		return d;
	})(),
};

for (const make of [object, transformation])
	if (!check(document(make())))
		fail('a good document: ' + ajv.errorsText(check.errors));
for (const [name, doc] of Object.entries(bad)) {
	seen++;
	if (check(doc))
		fail('taken for valid: ' + name);
}
console.log('epcis: the validator refuses ' + seen + ' bad documents');

/* --- ours ------------------------------------------------------------------ */

/* RFC 3986: an absolute URI of the characters that are allowed in one. */
const URI =
    /^[a-z][a-z0-9+.-]*:(%[0-9A-F]{2}|[A-Za-z0-9._~:/?#[\]@!$&'()*+,;=-])+$/;

function
uris(event)
{
	const at = (list, key) => (list || []).map((e) => e[key]);

	return [event.eventID, event.readPoint && event.readPoint.id,
	    event.bizLocation && event.bizLocation.id,
	    ...(event.epcList || []), ...(event.outputEPCList || []),
	    ...at(event.quantityList, 'epcClass'),
	    ...at(event.inputQuantityList, 'epcClass'),
	    ...at(event.outputQuantityList, 'epcClass'),
	    ...at(event.bizTransactionList, 'bizTransaction'),
	    ...at(event.sourceList, 'source'),
	    ...at(event.destinationList, 'destination')]
	    .filter((u) => u !== undefined);
}

const gram = (list) =>
    (list || []).reduce((sum, e) => sum + Math.round(e.quantity * 1000), 0);

function
look(name, doc)
{
	const ids = new Set();

	for (const e of doc.epcisBody.eventList) {
		for (const u of uris(e))
			if (!URI.test(u))
				fail(name + ': no URI: ' + u);
		if (ids.has(e.eventID))
			fail(name + ': twice: ' + e.eventID);
		ids.add(e.eventID);
		if (Number.isNaN(Date.parse(e.eventTime)))
			fail(name + ': no time: ' + e.eventTime);
		if (!e.eventTime.endsWith(e.eventTimeZoneOffset))
			fail(name + ': another offset than its time: ' +
			    e.eventTime);
		if (e.type !== 'TransformationEvent')
			continue;
		const units = ((e.ilmd || {})['pinbone:units'] || []).reduce(
		    (sum, u) => sum + u['pinbone:grams'], 0);
		/* A tray put together takes units, which have no grams here. */
		if (e.inputQuantityList && gram(e.inputQuantityList) !==
		    gram(e.outputQuantityList) + units)
			fail(name + ': grams in and out differ: ' + e.eventID);
	}
}

let events = 0;

for (const name of process.argv.slice(3)) {
	const doc = JSON.parse(fs.readFileSync(name, 'utf8'));

	if (!check(doc))
		fail(name + ': ' + ajv.errorsText(check.errors, {
			separator: '\n  ' }));
	look(name, doc);
	events += doc.epcisBody.eventList.length;
}
console.log('epcis: ' + (process.argv.length - 3) + ' documents, ' + events +
    ' events, ' + failed + ' failed');
if (events === 0)
	fail('nothing was looked at');
process.exit(failed === 0 ? 0 : 1);
