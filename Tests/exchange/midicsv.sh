#!/usr/bin/env bash
# Usage: midicsv.sh WRITE_LISTS FOLDER - the MIDI file as midicsv reads it. Exit status 77: midicsv is missing.
set -euo pipefail
command -v midicsv >/dev/null || { echo "skipped: midicsv is not installed"; exit 77; }
mkdir -p "$2"
SHUTTERBEAT_OUT=$2 "$1" >/dev/null
midicsv "$2/film.mid" >"$2/film.csv"
expect() { grep -qxF "$1" "$2/film.csv" || { echo "not found: $1"; cat "$2/film.csv"; exit 1; }; }
expect '0, 0, Header, 1, 2, 960' "$2"
expect '1, 0, SMPTE_offset, 65, 0, 0, 0, 0' "$2"
expect '1, 0, Time_signature, 4, 2, 24, 8' "$2"
expect '1, 0, Tempo, 616650' "$2"
expect '1, 0, Marker_t, "1M1 The borrowed ladder"' "$2"
test "$(grep -c Marker_t "$2/film.csv")" = 3
# Nineteen hits have a place, two of them the same.
test "$(grep -c Cue_point_t "$2/film.csv")" = 18
test "$(grep -c ', Tempo, ' "$2/film.csv")" = 3
# A cue's own file: its tempo and meter from its bar 1, its SMPTE offset that of frame 936.
midicsv "$2/cue-1M2.mid" >"$2/cue.csv"
expectCue() { grep -qxF "$1" "$2/cue.csv" || { echo "not found: $1"; cat "$2/cue.csv"; exit 1; }; }
expectCue '1, 0, SMPTE_offset, 65, 0, 31, 6, 0' "$2"
expectCue '1, 0, Time_signature, 4, 2, 24, 8' "$2"
expectCue '1, 0, Tempo, 454545' "$2"
test "$(grep -c End_track "$2/film.csv")" = 2
