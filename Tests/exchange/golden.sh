#!/usr/bin/env bash
# Usage: golden.sh WRITE_GOLDEN FOLDER NPM_FOLDER PYTHON_FOLDER - the golden-times table read by programs that are not ours:
# ffprobe (chapters, SubRip), npm webvtt-parser, npm wavefile, OpenTimelineIO. Each that can't be had is skipped and named.
# Exit status 77: none of them was there.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
mkdir -p "$2"
SHUTTERBEAT_OUT=$2 "$1" >/dev/null
checked=0
if command -v ffprobe >/dev/null && command -v node >/dev/null; then
  for folder in "$2"/*/; do
    ffprobe -v error -f ffmetadata -show_chapters -of json "$folder/chapters.ffmeta" >"$folder/chapters.json"
    ffprobe -v error -show_packets -of json "$folder/hits.srt" >"$folder/srt.json"
  done
  node "$here/golden-ffprobe.js" "$2"/*/
  checked=1
else
  echo "skipped: ffprobe or node is not installed"
fi
if command -v npm >/dev/null && command -v node >/dev/null; then
  reached=yes
  for package in webvtt-parser@2 wavefile@11; do
    name=${package%@*}
    if [ ! -d "$3/$name/node_modules/$name" ] && [ $reached = yes ]; then
      mkdir -p "$3/$name"
      timeout 60 npm install --silent --no-audit --no-fund --fetch-retries=1 --fetch-timeout=20000 --prefix "$3/$name" "$package" >/dev/null 2>&1 || { rm -rf "$3/$name" && reached=no; }
    fi
    if [ -d "$3/$name/node_modules/$name" ]; then
      NODE_PATH="$3/$name/node_modules" node "$here/golden-$name.js" "$2"/*/
      checked=1
    else
      echo "skipped: npm could not install $name"
    fi
  done
else
  echo "skipped: node and npm are not installed"
fi
if ! python3 -c 'import opentimelineio' 2>/dev/null && [ ! -x "$4/bin/python3" ]; then
  python3 -m venv "$4" >/dev/null 2>&1 && timeout 100 "$4/bin/pip" install --quiet --retries 1 --timeout 15 opentimelineio >/dev/null 2>&1 || true
fi
python=$([ -x "$4/bin/python3" ] && echo "$4/bin/python3" || echo python3)
if "$python" -c 'import opentimelineio' 2>/dev/null; then
  "$python" "$here/golden-otio.py" "$2"/*/
  checked=1
else
  echo "skipped: OpenTimelineIO for Python can't be had"
fi
[ $checked = 1 ] || exit 77
