#!/usr/bin/env bash
# Usage: midi-file.sh WRITE_LISTS FOLDER NPM_FOLDER - the MIDI file as npm's midi-file reads it.
# Exit status 77: node, npm or the registry is missing, nothing was compared.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
if ! command -v node >/dev/null || ! command -v npm >/dev/null; then
  echo "skipped: node and npm are not installed"
  exit 77
fi
if [ ! -d "$3/node_modules/midi-file" ]; then
  mkdir -p "$3"
  if ! npm install --silent --no-audit --no-fund --fetch-retries=1 --fetch-timeout=20000 --prefix "$3" midi-file@1; then
    echo "skipped: npm could not install midi-file"
    exit 77
  fi
fi
mkdir -p "$2"
SHUTTERBEAT_OUT=$2 "$1" >/dev/null
NODE_PATH="$3/node_modules" node "$here/midi-file.js" "$2/film.mid" "$2/hits.csv" "$2/cue-1M2.mid"
