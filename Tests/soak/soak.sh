#!/usr/bin/env bash
# Makes a small film and a book on it, and lets the soak run on them: soak.sh SHUTTERBEAT SOAK FOLDER MINUTES
set -euo pipefail
shutterbeat=$1 soak=$2 folder=$3 minutes=$4
rm -rf "$folder"
mkdir -p "$folder"
export XDG_CACHE_HOME="$folder/cache" XDG_STATE_HOME="$folder/state"
ffmpeg -v error -y -f lavfi -i "testsrc2=size=320x240:rate=25" -frames:v 750 -pix_fmt yuv420p -c:v libx264 -preset ultrafast -g 125 "$folder/film.mp4"
"$shutterbeat" new "$folder/film.shutterbeat" "$folder/film.mp4" --running 20 --final 25 >/dev/null 2>&1
"$shutterbeat" cues "$folder/film.shutterbeat" add --person ben --number 1M1 --title "All of it" --in film:0 --out end --tempo 96 >/dev/null 2>&1
"$soak" "$folder/film.shutterbeat" "$folder/out" --minutes "$minutes"
