#!/usr/bin/env bash
# Usage: smpte-timecode.sh FOLDER LABELS - compares what LABELS prints with npm's smpte-timecode, installed below FOLDER.
# Exit status 77: node, npm or the registry is missing, nothing was compared.
set -euo pipefail
folder=$1
labels=$2
here=$(cd "$(dirname "$0")" && pwd)
if ! command -v node >/dev/null || ! command -v npm >/dev/null; then
  echo "skipped: node and npm are not installed"
  exit 77
fi
if [ ! -d "$folder/node_modules/smpte-timecode" ]; then
  mkdir -p "$folder"
  if ! npm install --silent --no-audit --no-fund --fetch-retries=1 --fetch-timeout=20000 --prefix "$folder" smpte-timecode@1; then
    echo "skipped: npm could not install smpte-timecode"
    exit 77
  fi
fi
for rate in 29.97df 59.94df 25; do
  "$labels" "$rate" | NODE_PATH="$folder/node_modules" node "$here/smpte-timecode.js" "$rate"
done
