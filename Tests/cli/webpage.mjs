// Reads the web page as a person would, in headless Chromium by WebDriver: node webpage.mjs PAGE FOLDER FRAMES-PER-SECOND
// Prints what it saw as JSON; the file the page saves and screenshots go into FOLDER.
import { spawn } from 'node:child_process';
import { readdirSync, writeFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';

const [page, folder, rateText] = process.argv.slice(2);
const rate = Number(rateText);
const patience = 90000;
const wait = ms => new Promise(done => setTimeout(done, ms));
const driver = spawn('chromedriver', ['--port=0'], { stdio: ['ignore', 'pipe', 'inherit'] });
const port = await new Promise((found, failed) => {
  let said = '';
  driver.stdout.on('data', piece => { said += piece; const at = said.match(/successfully on port (\d+)/); if (at) found(at[1]); });
  driver.on('error', failed);
  setTimeout(() => failed(new Error('chromedriver did not start: ' + said)), patience).unref();
});
let session = '';
async function ask(method, path, body) {
  const answer = await fetch(`http://127.0.0.1:${port}${path}`, { method, headers: { 'content-type': 'application/json' }, body: body && JSON.stringify(body) });
  const json = await answer.json();
  if (json.value && json.value.error) throw new Error(json.value.error + ': ' + json.value.message);
  return json.value;
}
const run = (script, ...args) => ask('POST', session + '/execute/sync', { script, args });
async function until(script, what) {
  const end = Date.now() + patience;
  while (!(await run(script))) {
    if (Date.now() > end) throw new Error('waited in vain for ' + what);
    await wait(20);
  }
}
const codes = { ArrowLeft: '\uE012', ArrowUp: '\uE013', ArrowRight: '\uE014', ArrowDown: '\uE015', Escape: '\uE00C' };
async function keys(...list) {
  const actions = list.flatMap(k => [{ type: 'keyDown', value: codes[k] || k }, { type: 'keyUp', value: codes[k] || k }]);
  await ask('POST', session + '/actions', { actions: [{ type: 'key', id: 'keys', actions }] });
}
const type = text => keys(...text);
const element = async css => Object.values(await ask('POST', session + '/element', { using: 'css selector', value: css }))[0];
const click = async css => ask('POST', `${session}/element/${await element(css)}/click`, {});
const shot = async name => writeFileSync(`${folder}/${name}.png`, Buffer.from(await ask('GET', session + '/screenshot'), 'base64'));
const text = css => run('return document.querySelector(arguments[0]).textContent', css);
// The frame that the movie really shows: its own time stamp, as the compositor got it.
const shown = async () => {
  await until('return !document.getElementById("film").seeking', 'the seek');
  await run(`window.stamp = null; const film = document.getElementById('film');
    film.requestVideoFrameCallback((now, frame) => { window.stamp = frame.mediaTime; }); film.currentTime = film.currentTime;`);
  await until('return window.stamp !== null', 'a picture');
  return Math.round(await run('return window.stamp') * rate);
};

const saw = { stepped: [], jumped: [] };
try {
  const made = await ask('POST', '/session', { capabilities: { alwaysMatch: { browserName: 'chrome', 'goog:chromeOptions': {
    args: ['--headless', '--remote-debugging-pipe', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync',
           '--disable-dev-shm-usage', '--window-size=1440,900', `--user-data-dir=${folder}/profile`],
    prefs: { 'download.default_directory': folder, 'download.prompt_for_download': false } } } } });
  session = '/session/' + made.sessionId;
  await ask('POST', session + '/url', { url: pathToFileURL(page).href });
  await until('return document.getElementById("film").readyState >= 2', 'the movie');
  saw.title = await text('h1');
  const now = async () => ({ frame: Number(await text('#now-frame')), label: await text('#now-label'), movie: await shown() });
  for (let i = 0; i < 5; ++i) { await keys('ArrowRight'); saw.stepped.push(await now()); }
  await keys('ArrowLeft'); saw.stepped.push(await now());
  for (const j of [377, 12, 199, 200, 31, 399, 0, 250]) { await run('show(arguments[0])', j); saw.jumped.push(await now()); }
  // A click on a hit in the ledger, the next one by key, a click on the band.
  await click('.hit[data-id="anna-3"] .label'); saw.clicked = await now();
  await keys('ArrowDown'); saw.next = await now();
  await keys('ArrowUp'); saw.back = await now();
  // Accept, refuse with words, weight, a word on a cue, a new hit with its name.
  await keys('a');
  await click('.hit[data-id="anna-4"] .label');
  await keys('r', 'w'); await type('Too early for me'); await keys('Escape');
  await click('.hit[data-id="anna-5"] .label');
  await keys('1');
  await click('.cue button'); await click('.cue textarea'); await type('Slower?'); await keys('Escape');
  await run('show(123)');
  await keys('h'); await type('Hat flies off'); await keys('Escape');
  await until('return said.added.length === 1 && said.added[0].label === "Hat flies off"', 'the new hit');
  saw.tally = await text('#tally');
  await shot('dim');
  await keys('d'); await shot('day'); await keys('d');
  // Playing moves on by itself and stops on a whole frame.
  await run('show(0)');
  await keys(' '); await until('return frame > 3', 'playing'); await keys(' ');
  saw.stopped = await now();
  await keys('s');
  const end = Date.now() + patience;
  while (!saw.saved) {
    saw.saved = readdirSync(folder).find(name => name.endsWith('.shutterbeat-reply'));
    if (Date.now() > end) throw new Error('waited in vain for the saved file');
    await wait(50);
  }
  // Opened again, what was said is still there.
  await ask('POST', session + '/refresh', {});
  await until('return document.getElementById("film").readyState >= 2', 'the movie again');
  saw.again = await text('#tally');
  saw.asked = await run('return performance.getEntriesByType("resource").map(r => r.name).filter(n => !n.startsWith("file:") && !n.startsWith("blob:"))');
  console.log(JSON.stringify(saw, null, 1));
} finally {
  if (session) await ask('DELETE', session).catch(() => {});
  driver.kill();
}
