// WebVTT as npm's webvtt-parser reads it: without a complaint, each text on its delivered frame.
const assert = require("assert");
const fs = require("fs");
const { WebVTTParser } = require("webvtt-parser");
for (const folder of process.argv.slice(2)) {
  const expected = JSON.parse(fs.readFileSync(folder + "/expected.json", "utf8"));
  const rate = expected.numerator / expected.denominator;
  for (const [name, places] of [["hits.vtt", expected.hits], ["cards.vtt", expected.shots]]) {
    const tree = new WebVTTParser().parse(fs.readFileSync(folder + "/" + name, "utf8"), "metadata");
    assert.deepStrictEqual(tree.errors, []);
    assert.ok(tree.cues.length >= 3);
    for (const cue of tree.cues) assert.strictEqual(Math.round(cue.startTime * rate), Math.max(0, places[cue.id][0]), cue.id);
  }
}
