// Chapters and SubRip as ffprobe reads them.
const assert = require("assert");
const fs = require("fs");
for (const folder of process.argv.slice(2)) {
  const read = (name) => JSON.parse(fs.readFileSync(folder + "/" + name, "utf8"));
  const expected = read("expected.json");
  const frames = read("chapters.json").chapters.map((chapter) => {
    assert.strictEqual(chapter.time_base, expected.denominator + "/" + expected.numerator);
    return chapter.start;
  });
  assert.deepStrictEqual(frames, Object.values(expected.cues).map(([frame]) => frame));
  const rate = expected.numerator / expected.denominator;
  const starts = read("srt.json").packets.map((packet) => Math.round(Number(packet.pts_time) * rate));
  assert.deepStrictEqual(starts, Object.values(expected.hits).map(([frame]) => Math.max(0, frame)));
}
