#!/usr/bin/env bash
# What cmake --install puts where, and whether it holds together: install.sh BUILD CMAKE FOLDER
set -euo pipefail
build=$1 cmake=$2 folder=$3
fail() { echo "FAILED: $*"; exit 1; }
rm -rf "$folder"
"$cmake" --install "$build" --prefix "$folder/usr" >/dev/null
cd "$folder/usr"
program=$PWD/bin/shutterbeat

# Every command of the program stands in its manual, and nothing is left to be filled in.
page=$(zcat share/man/man1/shutterbeat.1.gz)
case $page in *@*) fail "the manual has something left to be filled in" ;; esac
commands=$("$program" --help | sed -n '/^Subcommands:/,/^$/s/^  \([a-z][a-z0-9-]*\) .*/\1/p')
[ "$(wc -w <<<"$commands")" -gt 20 ] || fail "the program lists too few commands"
for command in $commands; do
  grep -qx ".B $command" <<<"$page" || fail "the manual does not name $command"
done
if command -v man >/dev/null && command -v groff >/dev/null; then
  said=$(MANWIDTH=100 man --warnings -l share/man/man1/shutterbeat.1.gz 2>&1 >/dev/null || true)
  [ -z "$said" ] || fail "the manual: $said"
fi

# Completion offers what the program has.
completes() { # WORDS... gives what the last one completes to
  (
    source share/bash-completion/completions/shutterbeat
    compopt() { :; }
    COMP_WORDS=("$program" "$@")
    COMP_CWORD=$#
    _shutterbeat
    printf '%s\n' "${COMPREPLY[@]}"
  )
}
[ "$(completes doc)" = doctor ] || fail "doc completes to $(completes doc)"
[ "$(completes '' | grep -cx -e hits -e cues -e new)" = 3 ] || fail "the commands are not offered"
completes times x.shutterbeat --fi | grep -x -- --final >/dev/null || fail "the options of times are not offered"
[ "$(completes hits x.shutterbeat rem)" = remove ] || fail "the acts of hits are not offered"
completes hits x.shutterbeat add --la | grep -x -- --label >/dev/null || fail "the options of hits add are not offered"

grep -q 'glob pattern="\*.shutterbeat"' share/mime/packages/shutterbeat.xml || fail "no MIME type"
if command -v xmllint >/dev/null; then
  find share -name '*.svg' -o -name '*.xml' | xargs xmllint --noout || fail "not XML"
fi
if [ -x bin/shutterbeat-window ]; then
  grep -q '^MimeType=application/x-shutterbeat-book;' share/applications/shutterbeat.desktop || fail "no desktop entry"
  [ -f share/icons/hicolor/scalable/apps/shutterbeat.svg ] || fail "no icon"
  if command -v desktop-file-validate >/dev/null; then
    desktop-file-validate share/applications/shutterbeat.desktop || fail "the desktop entry"
  fi
fi
[ -f share/doc/shutterbeat/copyright ] || fail "no copyright"
"$program" doctor --json >/dev/null || [ $? = 1 ] || fail "the installed program does not run"
echo "$(find . -type f | wc -l) files installed, $(wc -w <<<"$commands") commands in manual and completion"
