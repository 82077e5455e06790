#!/usr/bin/env bash
# Usage: locales.sh PROGRAM FOLDER - runs PROGRAM under three locales; what it writes must be the same bytes in each (CASES B42).
# PROGRAM writes into SHUTTERBEAT_OUT and prints the decimal sign it found. Exit status 77: localedef is missing.
set -euo pipefail
program=$1
folder=$2
command -v localedef >/dev/null || { echo "skipped: localedef is not installed"; exit 77; }
mkdir -p "$folder/locale"
for name in da_DK de_DE; do
  if [ ! -d "$folder/locale/$name.utf8" ]; then
    # Under another name first: a run that was stopped must not leave half of one behind.
    rm -rf "$folder/locale/$name.half"
    localedef -i "$name" -f UTF-8 "$folder/locale/$name.half" 2>/dev/null || true
    [ -d "$folder/locale/$name.half" ] && mv "$folder/locale/$name.half" "$folder/locale/$name.utf8"
  fi
  [ -d "$folder/locale/$name.utf8" ] || { echo "skipped: localedef could not make $name"; exit 77; }
done
for locale in C da_DK.utf8 de_DE.utf8; do
  mkdir -p "$folder/$locale"
  said=$(LOCPATH="$folder/locale" LC_ALL="$locale" LANG="$locale" SHUTTERBEAT_OUT="$folder/$locale" "$program")
  sign=$([ "$locale" = C ] && echo . || echo ,)
  grep -qxF "decimal sign $sign" <<<"$said" || { echo "$locale did not take: $said"; exit 1; }
done
for locale in da_DK.utf8 de_DE.utf8; do
  diff -r "$folder/C" "$folder/$locale"
done
echo "$(ls "$folder/C" | wc -l) files are the same in three locales"
