// Cue points and time stamp as npm's wavefile reads them.
const assert = require("assert");
const fs = require("fs");
const { WaveFile } = require("wavefile");
for (const folder of process.argv.slice(2)) {
  const expected = JSON.parse(fs.readFileSync(folder + "/expected.json", "utf8"));
  const rate = expected.numerator / expected.denominator;
  const wav = new WaveFile(fs.readFileSync(folder + "/points.wav"));
  assert.strictEqual(wav.bext.timeReference[0], 172800000);
  const points = wav.listCuePoints();
  const wanted = Object.entries(expected.hits).filter(([, [frame]]) => frame >= 0);
  assert.strictEqual(points.length, wanted.length);
  for (const point of points) assert.strictEqual(Math.round((point.position / 1000) * rate), expected.hits[point.label][0], point.label);
}
