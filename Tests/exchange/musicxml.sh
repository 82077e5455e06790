#!/usr/bin/env bash
# Usage: musicxml.sh WRITE_LISTS FOLDER SCHEMA_FOLDER - the scores against the W3C schema, and as musicxml2ly reads them.
# Exit status 77: xmllint or the schema is missing, nothing was compared.
set -euo pipefail
command -v xmllint >/dev/null || { echo "skipped: xmllint is not installed"; exit 77; }
[ -f "$3/musicxml.xsd" ] || { echo "skipped: no MusicXML schema at $3"; exit 77; }
mkdir -p "$2"
SHUTTERBEAT_OUT=$2 "$1" >/dev/null
for score in "$2"/score-*.musicxml; do
  (cd "$3" && XML_CATALOG_FILES=local-catalog.xml xmllint --nonet --noout --schema musicxml.xsd "$score")
done
# The schema itself tells: a score that breaks it has to be refused.
sed 's/<divisions>/<divisons>/; s/<\/divisions>/<\/divisons>/' "$2/score-1M1.musicxml" >"$2/broken.xml"
if (cd "$3" && XML_CATALOG_FILES=local-catalog.xml xmllint --nonet --noout --schema musicxml.xsd "$2/broken.xml" 2>/dev/null); then
  echo "the schema took a broken score"
  exit 1
fi
command -v musicxml2ly >/dev/null || { echo "musicxml2ly is not installed; the schema alone was checked"; exit 0; }
for score in "$2"/score-*.musicxml; do
  musicxml2ly -o "$2/score.ly" "$score" >"$2/musicxml2ly.log" 2>&1 || { cat "$2/musicxml2ly.log"; exit 1; }
  grep -q '\\tempo' "$2/score.ly" || { echo "no tempo in $score as musicxml2ly reads it"; cat "$2/score.ly"; exit 1; }
  grep -q '\\mark' "$2/score.ly" || { echo "no rehearsal mark in $score as musicxml2ly reads it"; exit 1; }
done
SCHEMA_SCORE="$2/score-1M1.musicxml"
musicxml2ly -o "$2/score.ly" "$SCHEMA_SCORE" >/dev/null 2>&1
grep -q '4=97\|97.3' "$2/score.ly" || { echo "the tempo of 1M1 is not in the score"; grep tempo "$2/score.ly"; exit 1; }
