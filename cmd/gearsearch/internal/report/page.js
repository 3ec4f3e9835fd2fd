'use strict';
(() => {
  const data = JSON.parse(document.getElementById('data').textContent);
  const table = document.getElementById('builds');
  if (!table) return;
  const $ = id => document.getElementById(id);
  const status = $('status');
  const rows = [...table.tBodies].map((body, i) => ({
    body,
    build: data.builds[i],
    place: body.querySelector('[data-place]'),
    score: body.querySelector('[data-score]'),
    pin: body.querySelector('.pin input'),
    cells: [...body.querySelectorAll('[data-v]')].map(cell => cell.dataset.v === '' ? NaN : Number(cell.dataset.v)),
  }));
  const weights = data.weights.map(w => w.value);

  // The score and the order are those of the program: the same sums in the
  // same order, both score and price rounded to a millionth, then the ids.
  const micro = x => x === null ? Infinity : Math.round(x * 1e6);
  function rank() {
    let total = 0;
    for (const w of weights) total += w;
    for (const row of rows) {
      let sum = 0;
      if (total !== 0) {
        weights.forEach((w, i) => { if (w !== 0) sum += w * row.build.scores[i]; });
        sum = 100 * sum / total;
      }
      row.value = sum;
      row.key = [-micro(sum), micro(row.build.price), row.build.tie];
    }
    const order = [...rows].sort((a, b) => compare(a.key[0], b.key[0]) || compare(a.key[1], b.key[1]) || a.key[2] - b.key[2]);
    order.forEach((row, i) => {
      row.at = i + 1;
      row.place.textContent = String(row.at);
      row.score.textContent = row.value.toFixed(1);
    });
  }
  const compare = (a, b) => a < b ? -1 : a > b ? 1 : 0;

  // Sorting: by place, or by a column, what is not known last.
  const heads = [...table.tHead.rows[0].querySelectorAll('[data-key]')];
  let sorted = { key: 'place', down: false };
  const value = (row, key) => {
    if (key === 'place') return row.at;
    if (key === 'score') return row.value;
    return row.cells[heads.findIndex(head => head.dataset.key === key) - 2];
  };
  function arrange() {
    const sign = sorted.down ? -1 : 1;
    const order = [...rows].sort((a, b) => {
      const x = value(a, sorted.key), y = value(b, sorted.key);
      if (Number.isNaN(x) || Number.isNaN(y)) return Number.isNaN(x) - Number.isNaN(y) || a.at - b.at;
      return sign * compare(x, y) || a.at - b.at;
    });
    const focused = document.activeElement;
    for (const row of order) table.append(row.body);
    if (focused && table.contains(focused)) focused.focus({ preventScroll: true });
    for (const head of heads) {
      if (head.dataset.key === sorted.key) head.setAttribute('aria-sort', sorted.down ? 'descending' : 'ascending');
      else head.removeAttribute('aria-sort');
    }
  }
  for (const head of heads) {
    const span = head.querySelector('span');
    const button = document.createElement('button');
    button.type = 'button';
    button.textContent = head.dataset.title = span.textContent;
    span.replaceWith(button);
    button.addEventListener('click', () => {
      const key = head.dataset.key;
      sorted = { key, down: sorted.key === key ? !sorted.down : 'down' in head.dataset };
      arrange();
      say('Sorted by ' + button.textContent + (sorted.down ? ', most first' : ', least first'));
    });
  }

  // Filtering.
  const filter = $('filter'), roomy = $('roomy');
  function sift() {
    const words = filter.value.toLowerCase().split(/\s+/).filter(word => word !== '');
    for (const row of rows) {
      const found = words.every(word => row.body.dataset.find.includes(word));
      row.body.hidden = !found || roomy.checked && 'thin' in row.body.dataset;
    }
    say('');
  }
  filter.addEventListener('input', sift);
  roomy.addEventListener('change', sift);
  function say(text) {
    const shown = rows.filter(row => !row.body.hidden).length;
    const count = shown === rows.length ? 'All ' + shown + ' builds' : shown + ' of ' + rows.length + ' builds';
    const first = rows.find(row => row.at === 1);
    status.textContent = count + '. First: No. ' + first.build.number + ', score ' + first.value.toFixed(1) + '.' + (text === '' ? '' : ' ' + text + '.');
  }

  // Weights.
  const sliders = data.weights.map((w, i) => $('w' + i));
  function show() {
    weights.forEach((w, i) => { $('v' + i).textContent = String(w); });
    const changed = data.weights.map((w, i) => weights[i] === w.value ? '' : ' --weight ' + w.name + '=' + weights[i]).join('');
    $('again').hidden = changed === '';
    $('command').textContent = data.command + changed;
  }
  function reweigh() {
    rank();
    arrange();
    show();
    say('');
    if (pinned.length > 0) beside();
  }
  let waiting = false; // many moves of a slider between two frames are one
  function soon() {
    if (waiting) return;
    waiting = true;
    requestAnimationFrame(() => {
      waiting = false;
      reweigh();
    });
  }
  sliders.forEach((slider, i) => {
    slider.hidden = false;
    slider.addEventListener('input', () => {
      weights[i] = Number(slider.value);
      soon();
    });
  });
  $('reset').addEventListener('click', () => {
    data.weights.forEach((w, i) => { weights[i] = w.value; sliders[i].value = w.value; });
    reweigh();
  });

  // Side by side.
  const most = 3;
  let pinned = [];
  for (const row of rows) {
    row.pin.addEventListener('change', () => {
      pinned = pinned.filter(other => other !== row);
      if (row.pin.checked) pinned.push(row);
      for (const other of rows) other.pin.disabled = pinned.length === most && !other.pin.checked;
      $('pins').hidden = pinned.length === 0;
      beside();
      say(pinned.length + ' side by side, below the table' + (pinned.length === most ? ', which is as many as go' : ''));
    });
  }
  const element = (name, text, attributes) => {
    const out = document.createElement(name);
    out.textContent = text;
    for (const [key, v] of Object.entries(attributes || {})) out.setAttribute(key, v);
    return out;
  };
  function beside() {
    const builds = pinned.map(row => row.build);
    const head = document.createElement('tr');
    head.append(element('td', ''), ...builds.map(b => element('th', 'No. ' + b.number, { scope: 'col' })));
    const body = document.createElement('tbody');
    const line = (name, texts, better, values) => {
      const tr = document.createElement('tr');
      tr.append(element('th', name, { scope: 'row' }));
      const alike = texts.every(text => text === texts[0]);
      if (alike) tr.className = 'alike';
      const known = (values || []).filter(x => x !== null);
      const best = better > 0 ? Math.max(...known) : Math.min(...known);
      texts.forEach((text, i) => {
        const td = element('td', text);
        if (!alike && better !== 0 && values && values[i] === best && known.length > 0) {
          td.className = 'best';
          td.append(element('span', ' best', { class: 'vh' }));
        }
        tr.append(td);
      });
      body.append(tr);
    };
    line('place', pinned.map(row => String(row.at)), -1, pinned.map(row => row.at));
    line('score', pinned.map(row => row.value.toFixed(1)), 1, pinned.map(row => row.value));
    data.slots.forEach((slot, i) => line(slot, builds.map(b => b.parts[i]), 0));
    data.figures.forEach((figure, i) => {
      if (builds.every(b => b.texts[i] === '–')) return;
      line(figure.name + (figure.unit === '' ? '' : ', ' + figure.unit), builds.map(b => b.texts[i]), figure.better, builds.map(b => b.values[i]));
    });
    const thead = document.createElement('thead');
    thead.append(head);
    $('pinned').replaceChildren(thead, body);
  }

  for (const hidden of document.querySelectorAll('.live')) hidden.hidden = false;
  $('tools').hidden = false;
  rank();
  show();
  say('');
})();
