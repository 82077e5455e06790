// Reads "count label" lines and checks each, both ways, against smpte-timecode. The rate is the first argument.
'use strict';
const Timecode = require('smpte-timecode');
const readline = require('readline');

const name = process.argv[2];
const dropFrame = name.endsWith('df');
const rate = parseFloat(name);
let lines = 0;
let wrong = 0;

readline.createInterface({ input: process.stdin }).on('line', (line) => {
  const [count, label] = line.split(' ');
  const theirs = new Timecode(Number(count), rate, dropFrame).toString();
  const back = new Timecode(label, rate, dropFrame).frameCount;
  if (theirs !== label || back !== Number(count)) {
    if (++wrong <= 5) console.log(`${name}: frame ${count} is ${label} here, ${theirs} there; ${label} is frame ${back} there`);
  }
  ++lines;
}).on('close', () => {
  console.log(`${name}: ${lines} labels compared, ${wrong} differ`);
  process.exit(wrong === 0 && lines > 2000000 ? 0 : 1);
});
