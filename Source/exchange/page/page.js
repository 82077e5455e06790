'use strict';
// The whole of the page: what was sent (book), what the reader said (said), and the frame on the screen (frame).
const book = JSON.parse(document.getElementById('book').textContent);
const $ = id => document.getElementById(id);
const film = $('film');
const rate = book.rate[0] / book.rate[1];
const storeKey = 'shutterbeat:' + book.title + ':' + book.parcel + ':' + (book.person.id || '');
let reel = 0, frame = 0, here = null, playing = false;

// What the reader said, by id of hit or cue; hits of their own; kept in the browser until it is saved as a file.
let said = { name: book.person.name || '', hits: {}, cues: {}, added: [], next: book.next };
try { const kept = localStorage.getItem(storeKey); if (kept) said = Object.assign(said, JSON.parse(kept)); } catch (e) { /* private window: kept only while the page is open */ }
function keep() { try { localStorage.setItem(storeKey, JSON.stringify(said)); } catch (e) { /* as above */ } }

const weights = ['must', 'should', 'may'];
const kinds = Object.keys(marks);
const two = n => String(n).padStart(2, '0');

// SMPTE ST 12-1: a label is the name of a frame. Drop-frame leaves out 2 (or 4) labels each minute but every tenth.
function labelOf(count) {
  const per = book.labels;
  if (!per) return 'frame ' + count;
  let day = per * 86400;
  if (book.drop) {
    const d = per / 15, tenMinutes = per * 600 - d * 9, minute = per * 60 - d;
    day = tenMinutes * 144;
    count = ((count % day) + day) % day;
    const tens = Math.floor(count / tenMinutes), rest = count % tenMinutes;
    count += d * 9 * tens + (rest >= per * 60 ? d * (1 + Math.floor((rest - per * 60) / minute)) : 0);
  } else count = ((count % day) + day) % day;
  const s = Math.floor(count / per);
  return two(Math.floor(s / 3600)) + ':' + two(Math.floor(s / 60) % 60) + ':' + two(s % 60) + (book.drop ? ';' : ':') + two(count % per);
}
// Rounded once to hundredths, then split; ties go up.
function clockOf(frames) {
  const all = Math.floor((frames * book.rate[1] * 200 / book.rate[0] + 1) / 2), sign = all < 0 ? '-' : '', c = Math.abs(all);
  const h = Math.floor(c / 360000), m = Math.floor(c / 6000) % 60;
  return sign + (h ? h + ':' + two(m) : m) + ':' + two(Math.floor(c / 100) % 60) + '.' + two(c % 100);
}
const tc = (r, j) => labelOf(book.reels[r].start + j);

// --- the film: frame j of a reel is shown by seeking into its middle, never to its edge ---
function middleOf(j) { return (j + book.reels[reel].leader + 0.5) / rate; }
function frameOnScreen(seconds) { return Math.floor(seconds * rate + 1e-4) - book.reels[reel].leader; }
function show(j, r) {
  if (r !== undefined && r !== reel) openReel(r);
  frame = Math.max(-book.reels[reel].leader, Math.min(book.reels[reel].length - 1, j));
  film.currentTime = middleOf(frame);
  draw();
}
function step(n) { pause(); show(frame + n); }
function pause() { if (playing) { playing = false; film.pause(); frame = frameOnScreen(film.currentTime); film.currentTime = middleOf(frame); draw(); } }
function play() {
  if (playing) { pause(); return; }
  playing = true;
  film.play().catch(() => { playing = false; draw(); });
  const tick = () => { if (!playing) return; frame = frameOnScreen(film.currentTime); draw(); requestAnimationFrame(tick); };
  tick();
}
film.addEventListener('ended', pause);
function openReel(r) {
  reel = r; here = null;
  $('reel').value = r;
  $('no-movie').hidden = true;
  film.src = book.reels[r].movie;
  frame = 0;
  film.addEventListener('loadedmetadata', () => { film.currentTime = middleOf(frame); }, { once: true });
  fill();
}
film.addEventListener('error', () => {
  $('no-movie').hidden = false;
  $('no-movie-words').textContent = 'The movie ' + book.reels[reel].movie + ' is not beside this page. Put both into one folder, or show where it is:';
});
$('movie-file').addEventListener('change', e => {
  if (!e.target.files.length) return;
  film.src = URL.createObjectURL(e.target.files[0]);
  $('no-movie').hidden = true;
  film.addEventListener('loadedmetadata', () => { film.currentTime = middleOf(frame); }, { once: true });
});

// --- what is in the ledger ---
const all = () => book.hits.concat(said.added).filter(h => h.reel === reel && h.frame !== null).sort((a, b) => a.frame - b.frame);
const now = h => Object.assign({ weight: h.weight, answer: '', words: '' }, said.hits[h.id] || {});
const isMine = h => said.added.includes(h);
function say(h, what) {
  if (isMine(h)) Object.assign(h, what);
  else {
    const s = Object.assign(said.hits[h.id] || {}, what);
    if (s.weight === h.weight) delete s.weight;
    if (!s.answer) delete s.answer;
    if (!s.words) delete s.words;
    if (Object.keys(s).length) said.hits[h.id] = s; else delete said.hits[h.id];
  }
  keep();
}
function element(name, attributes, ...children) {
  const made = document.createElement(name);
  for (const [k, v] of Object.entries(attributes || {}))
    if (k.startsWith('on')) made.addEventListener(k.slice(2), v); else if (v !== null && v !== undefined) made.setAttribute(k, v);
  for (const c of children) if (c !== null && c !== undefined) made.append(c);
  return made;
}
function svg(name, attributes, ...children) {
  const made = document.createElementNS('http://www.w3.org/2000/svg', name);
  for (const [k, v] of Object.entries(attributes)) made.setAttribute(k, v);
  made.append(...children);
  return made;
}
let clips = 0;
// Kind by shape, weight by fill, an open question by a dot above.
function mark(kind, weight, open, size, x, y, ink) {
  const g = svg('g', { transform: `translate(${x} ${y}) scale(${size})` });
  const from = { must: 0, should: 0.5, may: 1 }[weight];
  if (from < 1) {
    const id = 'clip' + ++clips;
    g.append(svg('clipPath', { id }, svg('rect', { x: -1, y: from, width: 3, height: 3 })),
             svg('path', { d: marks[kind], fill: ink, 'fill-rule': 'evenodd', 'clip-path': `url(#${id})` }));
  }
  g.append(svg('path', { d: marks[kind], fill: 'none', stroke: ink, 'stroke-width': 0.09, 'stroke-linejoin': 'round' }));
  if (open) g.append(svg('circle', { cx: 0.5, cy: -0.26, r: 0.12, fill: 'var(--lamp)' }));
  return g;
}
function stateOf(h) {
  if (isMine(h)) return ['mine', '+ yours'];
  const n = now(h);
  if (n.answer === 'agreed') return ['agreed', '\u2713 you agree'];
  if (n.answer === 'refused') return ['refused', '\u2717 rather not'];
  return h.agreed ? ['agreed', '\u2713 agreed'] : ['open', '? open'];
}
function hitRow(h) {
  const n = isMine(h) ? h : now(h), [state, words] = stateOf(h);
  const picture = svg('svg', { viewBox: '-0.1 -0.45 1.2 1.6', role: 'img', 'aria-label': h.kind + ', ' + n.weight });
  picture.append(mark(h.kind, n.weight, state === 'open', 1, 0, 0, 'currentColor'));
  const row = element('div', { class: 'hit', 'data-id': h.id, tabindex: 0, onclick: () => choose(h), onfocus: () => { if (here !== h.id && !playing) choose(h); } },
    picture, element('span', { class: 'time' }, tc(h.reel, h.frame)), element('span', { class: 'label' + (h.kind === 'card' ? ' wording' : '') }, h.label || h.kind),
    element('span', { class: 'state ' + state }, words),
    element('span', { class: 'more quiet' }, h.kind + ' \u00b7 ' + n.weight + (h.asked_by ? ' \u00b7 asked by ' + h.asked_by : '') + (h.lead ? ' \u00b7 lead ' + h.lead + ' s' : '')));
  if (h.note) row.append(element('p', { class: 'more said quiet' }, h.note));
  const acts = element('div', { class: 'acts', onclick: e => e.stopPropagation()});
  const press = (name, on, act) => acts.append(element('button', { type: 'button', 'aria-pressed': String(on), onclick: act }, name));
  if (isMine(h)) {
    acts.append(element('input', { type: 'text', class: 'its-label', 'aria-label': 'What happens', placeholder: 'What happens here?', value: h.label, oninput: e => { say(h, { label: e.target.value }); row.querySelector('.label').textContent = e.target.value || h.kind; } }));
    const choice = element('select', { 'aria-label': 'Kind', onchange: e => { say(h, { kind: e.target.value }); fill(); } });
    for (const k of kinds) choice.append(element('option', k === h.kind ? { selected: '' } : {}, k));
    acts.append(choice);
  } else {
    press('I agree', n.answer === 'agreed', () => answer(h, 'agreed'));
    press('Rather not', n.answer === 'refused', () => answer(h, 'refused'));
  }
  for (const w of weights) press(w, n.weight === w, () => { say(h, { weight: w }); fill(); });
  if (isMine(h)) press('Take it out', false, () => { said.added = said.added.filter(x => x !== h); here = null; keep(); fill(); });
  acts.append(element('textarea', { class: 'its-words', 'aria-label': 'Words', placeholder: h.agreed || isMine(h) ? 'Words' : 'What is your answer?', oninput: e => { say(h, isMine(h) ? { note: e.target.value } : { words: e.target.value }); tally(); } }, (isMine(h) ? h.note : n.words) || ''));
  row.append(acts);
  return row;
}
function answer(h, what) { if (!isMine(h)) { say(h, { answer: now(h).answer === what ? '' : what }); fill(); } }
function cueRow(c) {
  const row = element('div', { class: 'cue', 'data-id': c.id, onclick: () => { pause(); if (c.in !== null) show(c.in, c.reel); } },
    element('h2', {}, c.number + (c.title ? '  ' + c.title : '')),
    element('span', { class: 'time quiet' }, c.in === null ? 'no place' : tc(c.reel, c.in)),
    element('span', { class: 'about quiet' }, [c.kind, c.mood, c.status, c.in !== null && c.out !== null ? clockOf(c.out - c.in) : ''].filter(x => x).join(' \u00b7 ')));
  if (c.note) row.append(element('p', { class: 'talk said quiet' }, c.note));
  const words = said.cues[c.id];
  if (words !== undefined) row.append(element('textarea', { class: 'talk', 'aria-label': 'Words on ' + c.number, onclick: e => e.stopPropagation(), oninput: e => { said.cues[c.id] = e.target.value; keep(); tally(); } }, words));
  else row.append(element('button', { type: 'button', onclick: e => { e.stopPropagation(); said.cues[c.id] = ''; keep(); fill(); } }, 'Words on this cue'));
  return row;
}
function fill() {
  const list = $('list'), top = list.scrollTop, only = $('only-open').checked;
  const focused = document.activeElement && document.activeElement.closest('.hit');
  const visible = all().filter(h => !only || (!isMine(h) && !h.agreed));
  list.replaceChildren();
  const cues = book.cues.filter(c => c.reel === reel || c.in === null);
  for (const c of cues) {
    list.append(cueRow(c));
    for (const h of visible) if (h.cue === c.id) list.append(hitRow(h));
  }
  const rest = visible.filter(h => !cues.some(c => c.id === h.cue));
  if (rest.length) list.append(element('div', { class: 'cue' }, element('h2', {}, 'In no cue')));
  for (const h of rest) list.append(hitRow(h));
  for (const h of book.hits) if (h.frame === null && reel === 0) list.append(element('div', { class: 'hit' }, element('span', {}), element('span', { class: 'time refused' }, 'no place'), element('span', { class: 'label' }, h.label || h.kind)));
  if (!list.children.length) list.append(element('p', { class: 'quiet cue' }, 'No hits yet. Play the film and press H where the music should answer something.'));
  list.scrollTop = top;
  tally(); drawBand(); draw();
  // The list is new; whoever walks it by keys stays where they were.
  const again = focused && focused.dataset.id ? list.querySelector(`.hit[data-id="${CSS.escape(focused.dataset.id)}"]`) : null;
  if (again) again.focus({ preventScroll: true });
}
function tally() {
  const words = Object.values(said.cues).filter(w => w).length, n = Object.keys(said.hits).length + said.added.length + words;
  $('tally').textContent = n ? n + (n === 1 ? ' thing' : ' things') + ' said' : 'nothing said yet';
}
function choose(h) {
  pause(); here = h.id; show(h.frame, h.reel);
  const row = document.querySelector(`.hit[data-id="${CSS.escape(h.id)}"]`);
  if (row) row.scrollIntoView({ block: 'nearest' });
}
const chosen = () => all().find(h => h.id === here);
function jump(by) {
  const hits = all();
  const next = by > 0 ? hits.find(h => h.frame > frame) : hits.filter(h => h.frame < frame).pop();
  if (next) choose(next);
}
function add() {
  pause();
  const person = (book.person.id || (said.name || 'guest').toLowerCase().replace(/[^a-z0-9_]/g, '') || 'guest');
  const cue = book.cues.find(c => c.reel === reel && c.in !== null && c.in <= frame && frame < c.out);
  const h = { id: person + '-' + said.next++, reel, frame, kind: 'action', weight: 'should', label: '', note: '', agreed: false, cue: cue ? cue.id : '' };
  said.added.push(h); keep(); here = h.id; fill();
  const box = document.querySelector('.hit.here .its-label');
  if (box) { box.scrollIntoView({ block: 'nearest' }); box.focus(); }
}

// --- drawing ---
function draw() {
  $('now-label').textContent = tc(reel, frame);
  $('now-frame').textContent = frame;
  $('now-clock').textContent = clockOf(frame);
  const cue = book.cues.find(c => c.reel === reel && c.in !== null && c.in <= frame && frame < c.out);
  $('now-cue').textContent = cue ? cue.number + (cue.title ? ' \u2013 ' + cue.title : '') : '';
  $('play').firstChild.data = (playing ? 'Stop' : 'Play') + ' ';
  document.querySelectorAll('.hit').forEach(row => row.classList.toggle('here', row.dataset.id !== undefined && row.dataset.id === here));
  const line = $('now-line');
  if (line) line.setAttribute('transform', `translate(${xOf(frame)} 0)`);
}
const xOf = j => 12 + (bandWidth - 24) * j / Math.max(1, book.reels[reel].length);
let bandWidth = 800;
function drawBand() {
  const band = $('band');
  bandWidth = band.clientWidth || 800;
  band.setAttribute('viewBox', `0 0 ${bandWidth} 92`);
  band.replaceChildren();
  for (const c of book.cues) {
    if (c.reel !== reel || c.in === null || c.out === null) continue;
    const x = xOf(c.in), w = Math.max(2, xOf(c.out) - x - 1), name = svg('text', { x: x + 4, y: 79 });
    name.textContent = w > 10 + 7 * c.number.length ? c.number + (w > 30 + 7 * (c.number + c.title).length ? '  ' + c.title : '') : '';
    band.append(svg('rect', { x, y: 60, width: w, height: 4, rx: 2, fill: 'var(--night)', opacity: c.kind === 'tacet' ? 0.3 : 1 }), name);
  }
  for (const h of all()) {
    const n = isMine(h) ? h : now(h), state = stateOf(h)[0];
    const g = mark(h.kind, n.weight, state === 'open', 16, xOf(h.frame) - 8, 24, { agreed: 'var(--woods)', refused: 'var(--rose)', mine: 'var(--lamp)', open: 'var(--text)' }[state]);
    g.append(svg('title', {}, tc(h.reel, h.frame) + '  ' + (h.label || h.kind)));
    band.append(g);
  }
  band.append(svg('line', { id: 'now-line', x1: 0, x2: 0, y1: 4, y2: 88, stroke: 'var(--lamp)', 'stroke-width': 2 }));
}
$('band').addEventListener('click', e => {
  const box = $('band').getBoundingClientRect(), x = e.clientX - box.left;
  pause();
  const near = all().find(h => Math.abs(xOf(h.frame) - x) < 7 && e.clientY - box.top < 48);
  if (near) choose(near); else show(Math.round((x - 12) / (bandWidth - 24) * book.reels[reel].length));
});

// --- the file that goes back ---
function reply() {
  const sent = {};
  for (const h of book.hits) if (said.hits[h.id]) sent[h.id] = h;
  return { document: 'shutterbeat reply', schema: 1, title: book.title, parcel: book.parcel, edition: book.edition, final_rate: book.final_rate, fill: book.fill, running: book.running,
    person: { id: book.person.id || (said.added[0] ? said.added[0].id.split('-')[0] : (said.name || 'guest').toLowerCase().replace(/[^a-z0-9_]/g, '') || 'guest'), name: said.name, last_number: said.next - 1 },
    hits: Object.entries(said.hits).map(([id, s]) => Object.assign({ id, sent: sent[id] }, s)),
    cues: Object.entries(said.cues).filter(([, words]) => words).map(([id, words]) => ({ id, words })),
    added: said.added };
}
function save() {
  const link = element('a', { href: URL.createObjectURL(new Blob([JSON.stringify(reply(), null, 2) + '\n'], { type: 'application/json' })),
    download: (book.title + (book.parcel ? ' ' + book.parcel : '') + ' from ' + (said.name || 'guest')).replace(/[^\p{L}\p{N} _-]/gu, '') + '.shutterbeat-reply' });
  document.body.append(link); link.click(); link.remove();
}

// --- hands ---
const keysDown = { ' ': play, ArrowLeft: e => step(e.shiftKey ? -10 : -1), ArrowRight: e => step(e.shiftKey ? 10 : 1), ArrowUp: () => jump(-1), ArrowDown: () => jump(1), h: add, s: save, d: dye,
  a: () => { const h = chosen(); if (h) answer(h, 'agreed'); }, r: () => { const h = chosen(); if (h) answer(h, 'refused'); },
  w: () => { const box = document.querySelector('.hit.here .its-words'); if (box) box.focus(); } };
weights.forEach((w, i) => { keysDown[i + 1] = () => { const h = chosen(); if (h) { say(h, { weight: w }); fill(); } }; });
document.addEventListener('keydown', e => {
  if (e.key === 'Escape' && document.activeElement) document.activeElement.blur();
  if (/TEXTAREA|INPUT|SELECT/.test(e.target.tagName) && e.target.type !== 'checkbox' || e.ctrlKey || e.metaKey || e.altKey) return;
  const act = keysDown[e.key.length === 1 ? e.key.toLowerCase() : e.key];
  if (!act || (e.key === ' ' && e.target.tagName === 'BUTTON' && e.target.matches(':focus-visible'))) return;
  e.preventDefault();
  act(e);
});
// A click never takes the keyboard from the film.
document.addEventListener('mouseup', e => { if (e.target.closest('button')) document.activeElement.blur(); });
function dye() { const day = document.documentElement.classList.toggle('day'); $('dye').firstChild.data = day ? 'Dim room ' : 'Day '; drawBand(); draw(); }
$('play').onclick = play; $('back').onclick = () => step(-1); $('on').onclick = () => step(1); $('earlier').onclick = () => jump(-1); $('later').onclick = () => jump(1);
$('add').onclick = add; $('save').onclick = save; $('dye').onclick = dye; $('only-open').onchange = fill;
$('name').value = said.name; $('name').oninput = e => { said.name = e.target.value; keep(); };
addEventListener('resize', () => { drawBand(); draw(); });

$('film-title').textContent = book.title;
$('film-basis').textContent = 'Edition ' + book.edition + ' \u00b7 ' + book.basis + (book.revision ? ' \u00b7 revision ' + book.revision : '') + (book.stamped ? ' \u00b7 ' + book.stamped : '');
$('receiver').textContent = (book.person.name ? 'For ' + book.person.name : '') + (book.parcel ? ', parcel ' + book.parcel : '');
book.reels.forEach((r, i) => $('reel').append(element('option', { value: i }, 'Reel ' + (i + 1))));
$('reel').hidden = book.reels.length < 2;
$('reel').onchange = e => { pause(); openReel(Number(e.target.value)); };
openReel(0);
