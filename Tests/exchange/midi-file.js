// Reads a MIDI file of ours and checks that every hit of the list beside it is a cue point at its clock.
const assert = require("assert");
const fs = require("fs");
const { parseMidi } = require("midi-file");

const midi = parseMidi(fs.readFileSync(process.argv[2]));
assert.strictEqual(midi.header.format, 1);
assert.strictEqual(midi.header.numTracks, 2);
assert.strictEqual(midi.header.ticksPerBeat, 960);

const track = midi.tracks[0];
const offset = track.find((event) => event.type === "smpteOffset");
assert.deepStrictEqual([offset.hour, offset.min, offset.sec, offset.frame, offset.subFrame], [1, 0, 0, 0, 0]);
assert.strictEqual(track.find((event) => event.type === "timeSignature").numerator, 4);

// Texts arrive one byte a character.
const utf8 = (text) => Buffer.from(text, "latin1").toString("utf8");
let tick = 0;
let seconds = 0;
let micros = 500000;
const points = [];
const markers = [];
for (const event of track) {
  tick += event.deltaTime;
  seconds += (event.deltaTime * micros) / 960e6;
  if (event.type === "setTempo") micros = event.microsecondsPerBeat;
  if (event.type === "cuePoint") points.push({ seconds, text: utf8(event.text) });
  if (event.type === "marker") markers.push(utf8(event.text));
}
assert.deepStrictEqual(markers, ["1M1 The borrowed ladder", "1M2 Køkkenet", "1M3 Chase to the river"]);

// The list has simple cells where they matter here: take the exact clock of each id.
const clocks = [...fs.readFileSync(process.argv[3], "utf8").matchAll(/^\uFEFF?anna-.*?,\d\d:\d\d:\d\d;\d\d,-?[\d.]+,(-?[\d/]+)/gm)].map((m) => {
  const [n, d] = m[1].split("/");
  return Math.max(0, Number(n) / Number(d || 1));
});
assert.strictEqual(clocks.length, 19);
const distinct = [...new Set(clocks)].sort((a, b) => a - b);
assert.strictEqual(points.length, distinct.length);
points.forEach((point, i) => assert.ok(Math.abs(point.seconds - distinct[i]) < 0.0004, `${point.text} at ${point.seconds}, not ${distinct[i]}`));
assert.ok(points.some((point) => point.text === "“Stå! Den er ikke din!”"));
assert.ok(points.some((point) => point.text === "Pot boils over + Čapek slips"));

// A cue's own file: ticks count its beats from bar 1.
const cue = parseMidi(fs.readFileSync(process.argv[4]));
assert.strictEqual(cue.header.ticksPerBeat, 960);
const events = cue.tracks[0];
const start = events.find((event) => event.type === "smpteOffset");
assert.deepStrictEqual([start.hour, start.min, start.sec, start.frame, start.subFrame], [1, 0, 31, 6, 0]);
assert.strictEqual(events.find((event) => event.type === "setTempo").microsecondsPerBeat, 454545);
assert.strictEqual(utf8(events.find((event) => event.type === "marker").text), "1M2 Køkkenet");
const meter = events.find((event) => event.type === "timeSignature");
assert.deepStrictEqual([meter.numerator, meter.denominator, meter.metronome], [4, 4, 24]);
// Hits of 1M2, by their clocks from its start at delivered frame 936.
let cueTick = 0;
const cueHits = [];
for (const event of events) {
  cueTick += event.deltaTime;
  if (event.type === "cuePoint") cueHits.push((cueTick * 454545) / 960e6);
}
const begin = (936 * 1001) / 30000;
assert.ok(cueHits.length >= 4);
for (const seconds of cueHits)
  assert.ok(distinct.some((clock) => Math.abs(clock - begin - seconds) < 0.0004), `no hit at ${seconds}`);
