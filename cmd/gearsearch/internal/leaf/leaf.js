'use strict';

// leaf gives a table of builds its behaviour: sorting, filtering, other weights,
// builds side by side, and a part of the field to look at. root is what package
// leaf makes of the table, data what it knows of the builds; where that has no charts,
// chartsOf gives a promise of those of some builds, by their numbers. What it returns
// takes the field of all builds, once that is there.
const leaf = (root, data, chartsOf) => {
  if (!root) return null;
  let field = null;
  const $ = selector => root.querySelector(selector);
  const table = $('table.builds');
  const status = $('.found');
  const rows = [...table.tBodies].map((body, i) => ({
    body,
    build: data.builds[i],
    place: body.querySelector('[data-place]'),
    score: body.querySelector('[data-score]'),
    pin: body.querySelector('.pin input'),
    cells: [...body.querySelectorAll('[data-v]')].map(cell => cell.dataset.v === '' ? NaN : Number(cell.dataset.v)),
  }));
  const weights = data.weights.map(w => w.value);
  const steered = $('.weights') !== null; // weights can be changed here

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
  const filter = $('#filter'), roomy = $('#roomy');
  function sift() {
    const words = filter.value.toLowerCase().split(/\s+/).filter(word => word !== '');
    for (const row of rows) {
      const found = words.every(word => row.body.dataset.find.includes(word));
      row.body.hidden = !found || roomy.checked && 'thin' in row.body.dataset || !within(row);
    }
    if (field) {
      for (const dot of field.querySelectorAll('.pick')) {
        const row = rows.find(one => one.build.number === Number(dot.dataset.number));
        dot.classList.toggle('out', Boolean(row) && row.body.hidden);
      }
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

  // A part of the field: the builds of the list outside of it are hidden. It is
  // drawn with the mouse or a finger, or set by the four ends below it.
  let part = null; // [least x, most x, least y, most y] in the figures' units
  const place = name => data.figures.findIndex(figure => figure.key === field.dataset[name]);
  function within(row) {
    if (!part) return true;
    const x = row.build.values[place('x')], y = row.build.values[place('y')];
    return x !== null && y !== null && x >= part[0] && x <= part[1] && y >= part[2] && y <= part[3];
  }
  function look() {
    const svg = field.querySelector('svg'), brush = field.querySelector('.brush');
    const axis = name => field.dataset[name + 'Range'].split(' ').map(Number);
    const [lowX, highX, leftX, rightX] = axis('x'), [lowY, highY, downY, upY] = axis('y');
    const toX = x => leftX + (x - lowX) / (highX - lowX) * (rightX - leftX), ofX = at => lowX + (at - leftX) / (rightX - leftX) * (highX - lowX);
    const toY = y => downY + (y - lowY) / (highY - lowY) * (upY - downY), ofY = at => lowY + (at - downY) / (upY - downY) * (highY - lowY);
    const ends = [];
    function show() {
      const [a, b, c, d] = part || [lowX, lowX, lowY, lowY];
      brush.setAttribute('x', toX(a));
      brush.setAttribute('y', toY(d));
      brush.setAttribute('width', part ? toX(b) - toX(a) : 0);
      brush.setAttribute('height', part ? toY(c) - toY(d) : 0);
      ends.forEach((end, i) => { end.value = part ? part[i] : [lowX, highX, lowY, highY][i]; });
      whole.hidden = !part;
      sift();
    }
    function set(next) {
      part = next;
      show();
    }
    const controls = document.createElement('div');
    controls.className = 'ends';
    const figure = name => data.figures[place(name)];
    ['x', 'x', 'y', 'y'].forEach((name, i) => {
      const [low, high] = name === 'x' ? [lowX, highX] : [lowY, highY];
      const end = document.createElement('input');
      end.type = 'range';
      end.min = low;
      end.max = high;
      end.step = (high - low) / 200;
      end.addEventListener('input', () => {
        const next = ends.map(e => Number(e.value));
        if (i % 2 === 0) next[i + 1] = Math.max(next[i + 1], next[i]);
        else next[i - 1] = Math.min(next[i - 1], next[i]);
        set(next);
      });
      ends.push(end);
      const label = document.createElement('label');
      label.append(figure(name).name + (i % 2 === 0 ? ' from' : ' to') + ' ', end);
      controls.append(label);
    });
    const whole = document.createElement('button');
    whole.type = 'button';
    whole.className = 'whole';
    whole.textContent = 'The whole field';
    whole.addEventListener('click', () => set(null));
    controls.append(whole);
    field.append(controls);
    let begun = null;
    const spot = event => {
      const box = svg.getBoundingClientRect(), view = svg.viewBox.baseVal;
      const clamp = (v, a, b) => Math.min(Math.max(v, Math.min(a, b)), Math.max(a, b));
      return [clamp((event.clientX - box.left) / box.width * view.width, leftX, rightX), clamp((event.clientY - box.top) / box.height * view.height, upY, downY)];
    };
    svg.addEventListener('pointerdown', event => {
      begun = spot(event);
      svg.setPointerCapture(event.pointerId);
    });
    svg.addEventListener('pointermove', event => {
      if (!begun) return;
      const [x, y] = spot(event);
      const least = 4;
      if (Math.hypot(x - begun[0], y - begun[1]) < least) return;
      set([ofX(Math.min(x, begun[0])), ofX(Math.max(x, begun[0])), ofY(Math.max(y, begun[1])), ofY(Math.min(y, begun[1]))]);
    });
    for (const end of ['pointerup', 'pointercancel']) svg.addEventListener(end, () => { begun = null; });
    show();
  }

  // Weights.
  const sliders = steered ? data.weights.map((w, i) => $('#w' + i)) : [];
  function show() {
    weights.forEach((w, i) => { $('#v' + i).textContent = String(w); });
    const changed = data.weights.map((w, i) => weights[i] === w.value ? '' : ' --weight ' + w.name + '=' + weights[i]).join('');
    $('.again').hidden = changed === '';
    $('.command').textContent = data.command + changed;
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
  if (steered) $('.reset').addEventListener('click', () => {
    data.weights.forEach((w, i) => { weights[i] = w.value; sliders[i].value = w.value; });
    reweigh();
  });

  // Side by side.
  const most = 4;
  let pinned = [];
  for (const row of rows) {
    row.pin.addEventListener('change', () => {
      pinned = pinned.filter(other => other !== row);
      if (row.pin.checked) pinned.push(row);
      for (const other of rows) other.pin.disabled = pinned.length === most && !other.pin.checked;
      $('.bench').hidden = pinned.length === 0;
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
          td.append(element('span', ' best', { class: 'hidden' }));
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
    $('.beside').replaceChildren(thead, body);
    lay(builds);
  }

  // lay lays the curves of builds over one another.
  let turn = 0; // of the last builds: curves of others are dropped
  async function lay(builds) {
    const mine = ++turn;
    const place = $('.laid');
    const names = builds.map(b => 'No. ' + b.number);
    let charts = null;
    if (data.charts) {
      const at = builds.map(b => data.builds.indexOf(b));
      charts = data.charts.map(chart => ({ ...chart, of: at.map(i => chart.of[i]) }));
    } else if (chartsOf && builds.length > 0) {
      charts = await chartsOf(builds.map(b => b.number));
    }
    if (mine === turn) laid(place, charts || [], names);
  }

  for (const hidden of root.querySelectorAll('.live')) hidden.hidden = false;
  $('.tools').hidden = false;
  rank();
  if (steered) show();
  say('');
  return {
    among(figure) {
      field = figure;
      part = null;
      if (field) look();
    },
  };
};
