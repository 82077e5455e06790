#!/bin/sh
# Rendering against ffmpeg doing the same: the same frames scaled alike, five texts beside the picture, the same H.264 and
# AAC. Prints one line: seconds of each, the ratio and its aim. Other work on the machine makes it noise.
#
#   Tests/bench/render.sh PROGRAM FILM [ROUNDS [SECONDS]]
#
# PROGRAM: the headless program; FILM: the demo's film (demo/out/edition-a.mp4), whose 25 pictures a second are delivered as they
# are. Its first seconds (10) are taken, with a book of their own: a cue over all of it, a hit on every cut and card.
set -eu
program=$1 whole=$2 rounds=${3:-2} seconds=${4:-10}
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
film=$folder/film.mp4 book=$folder/film.shutterbeat
ffmpeg -nostdin -v error -y -i "$whole" -t "$seconds" -an -c:v libx264 -preset veryfast -crf 14 "$film"
XDG_CACHE_HOME=$folder "$program" new "$book" "$film" --running 20 --final 25 --start 01:00:00:00 >/dev/null 2>&1
"$program" hits "$book" add --proposed --weight should >/dev/null
"$program" cues "$book" add --number 1M1 --in film:0 --out end >/dev/null

font() { fc-match -f '%{file}' "$1"; }
mono=$(font 'JetBrains Mono:semibold') words=$(font 'Inter')

ours() {
    "$program" render "$book" -o "$folder/ours.mp4" --final 25 --show timecode,frame,feet,cue,countdown --for 'Copy for the bench' 2>/dev/null >/dev/null
}

theirs() {
    text() { printf 'drawtext=fontfile=%s:fontsize=%s:fontcolor=0xEFE6D8:x=%s:y=%s:' "$@"; }
    ffmpeg -nostdin -v error -y -i "$film" -f lavfi -i anullsrc=r=48000:cl=stereo -shortest -filter_complex "[0:v]\
scale=960:720:flags=bicubic+accurate_rnd+bitexact:in_color_matrix=bt601:out_color_matrix=bt709:in_range=tv:out_range=tv,\
pad=1280:720:160:0:0x14110F,\
$(text "$mono" 19 18 660)timecode='01\:00\:00\:00':rate=25,\
$(text "$mono" 25 18 600)text='%{n}',\
$(text "$mono" 25 18 540)text='%{eif\:n/16\:d}+%{eif\:mod(n,16)\:d}',\
$(text "$words" 22 18 30)text='1M1',\
$(text "$mono" 36 1138 40)text='%{eif\:mod(3000-n,250)/25\:d}',\
$(text "$words" 13 1138 680)text='Copy for the bench'[v]" \
        -map '[v]' -map 1:a -c:v libx264 -preset medium -crf 18 -profile:v high -g 25 -bf 2 -flags +cgop -threads 4 -pix_fmt yuv420p \
        -colorspace bt709 -color_primaries bt709 -color_trc bt709 -c:a aac -b:a 256k -movflags +faststart "$folder/theirs.mp4"
}

# The best of a few rounds of each, in turn, so that a slow moment hits both.
best() { awk -v a="$1" -v b="$2" 'BEGIN { print (b == "" || a < b) ? a : b }'; }
timed() {
    begun=$(date +%s.%N)
    "$1"
    ended=$(date +%s.%N)
    awk -v a="$begun" -v b="$ended" 'BEGIN { printf "%.3f", b - a }'
}
a='' b=''
for _ in $(seq "$rounds"); do
    a=$(best "$(timed ours)" "$a")
    b=$(best "$(timed theirs)" "$b")
done
count() { ffprobe -v error -select_streams v -count_packets -show_entries stream=nb_read_packets -of default=nw=1:nk=1 "$1"; }
[ "$(count "$folder/ours.mp4")" = "$(count "$folder/theirs.mp4")" ] || { echo "render: the movies differ in length" >&2; exit 1; }
awk -v a="$a" -v b="$b" -v n="$(count "$folder/ours.mp4")" 'BEGIN {
    r = a / b
    printf "render %d frames: ours %.2f s, ffmpeg %.2f s, ratio %.3f, aim 1.1: %s\n", n, a, b, r, r <= 1.1 ? "pass" : "fail" }'
