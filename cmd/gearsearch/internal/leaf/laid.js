'use strict';

// laid draws the curves of up to four builds over one another into a place: charts as
// package leaf makes them, with the names of the builds. Under each drawing stands what
// every build has where it is read: at the pointer, a finger, or by the arrow keys.
const laid = (() => {
  const space = () => document.querySelector('svg').namespaceURI; // every table has one
  const make = (name, attributes, ...inside) => {
    const out = ['svg', 'path', 'text', 'line', 'g', 'rect'].includes(name) ? document.createElementNS(space(), name) : document.createElement(name);
    for (const [key, value] of Object.entries(attributes || {})) if (value !== null) out.setAttribute(key, value);
    out.append(...inside);
    return out;
  };
  const frame = { left: 44, right: 12, top: 24, bottom: 40 };
  const say = (x, decimals) => x.toFixed(decimals).replace('-', '−');

  // ticks are round numbers from 0 up to most, about so many.
  function ticks(most, about) {
    const rough = most / about, power = 10 ** Math.floor(Math.log10(rough));
    const step = power * [1, 2, 5, 10].find(m => m * power >= rough);
    const out = [];
    for (let x = 0; x <= most * (1 + 1e-9); x += step) out.push(x);
    return out;
  }

  // crosses tells whether a piece of a line is inside a box for some of its length.
  function crosses([a, b], box) {
    let low = 0, high = 1;
    for (const i of [0, 1]) {
      const step = b[i] - a[i], least = box[i], most = box[i + 2];
      if (step === 0) {
        if (a[i] <= least || a[i] >= most) return false;
        continue;
      }
      const p = (least - a[i]) / step, q = (most - a[i]) / step;
      low = Math.max(low, Math.min(p, q));
      high = Math.min(high, Math.max(p, q));
    }
    return low < high;
  }

  // spots gives each line a place for its name, off all lines and names where there is
  // one, and as far from the other lines.
  function spots(lines, wide, width, height) {
    const high = 15, off = 4;
    const pieces = lines.flatMap(line => line.slice(1).map((to, n) => [line[n], to]));
    const taken = [];
    return lines.map((own, i) => {
      let best = null;
      for (const [x, y] of own) {
        for (const [left, top] of [[x + off, y - high - off], [x - wide - off, y - high - off], [x + off, y + off], [x - wide - off, y + off]]) {
          const box = [left, top, left + wide, top + high];
          if (left < frame.left || top < frame.top || box[2] > width - frame.right || box[3] > height - frame.bottom) continue;
          if (taken.some(other => box[0] < other[2] && other[0] < box[2] && box[1] < other[3] && other[1] < box[3])) continue;
          const cut = pieces.filter(piece => crosses(piece, box)).length;
          let far = 60; // pixels: farther is no clearer
          lines.forEach((other, k) => {
            if (k !== i) for (const [a, b] of other) far = Math.min(far, Math.hypot(a - left - wide / 2, b - top - high / 2));
          });
          if (!best || cut < best.cut || cut === best.cut && far > best.far) best = { cut, far, box };
        }
      }
      if (best) taken.push(best.box);
      return best && [best.box[0], best.box[3] - 3];
    });
  }

  function draw(chart, names, width) {
    const height = Math.round(Math.min(380, Math.max(260, width * 0.56)));
    const known = chart.of.filter(Boolean);
    const last = Math.max(1, ...known.map(of => of[0].length - 1)); // of one value there is no curve
    const mostX = last * chart.step;
    const mostY = Math.max(1e-3, ...known.flat(2)) * 1.06;
    const least = Math.min(0, ...known.flat(2));
    const toX = x => frame.left + x / mostX * (width - frame.left - frame.right);
    const toY = y => height - frame.bottom - (y - least) / (mostY - least) * (height - frame.top - frame.bottom);
    const svg = make('svg', { viewBox: `0 0 ${width} ${height}`, width, height, tabindex: '0', role: 'slider', 'aria-label': `${chart.title}: where it is read`, 'aria-valuemin': '0', 'aria-valuemax': String(last) });
    const text = (x, y, anchor, words, name) => make('text', { x, y, 'text-anchor': anchor, class: name || null }, words);
    for (const x of ticks(mostX, width < 500 ? 5 : 8)) svg.append(make('line', { class: 'grid', x1: toX(x), x2: toX(x), y1: frame.top, y2: height - frame.bottom }), text(toX(x), height - frame.bottom + 16, 'middle', String(Math.round(x * 100) / 100)));
    for (const y of ticks(mostY, 5)) svg.append(make('line', { class: 'grid', x1: frame.left, x2: width - frame.right, y1: toY(y), y2: toY(y) }), text(frame.left - 6, toY(y) + 4, 'end', String(Math.round(y * 100) / 100)));
    svg.append(text(0, 14, 'start', `${chart.y.name}, ${chart.y.unit}`), text(width - frame.right, height - 6, 'end', `${chart.x.name}, ${chart.x.unit}`));
    const strong = [];
    chart.of.forEach((of, i) => (of || []).forEach((values, k) => {
      const none = values.indexOf(0, 1); // from where nothing is left
      const shown = none < 0 ? values : values.slice(0, none + 1);
      const points = shown.map((y, n) => [toX(n * chart.step), toY(y)]);
      if (k === 0) strong.push({ i, points });
      else if (strong.length === 1) svg.append(text(points[0][0] + 6, points[0][1] - 5, 'start', chart.lines[k]));
      svg.append(make('path', { class: `of${i}${k ? ' weak' : ''}`, d: 'M' + points.map(([x, y]) => x.toFixed(1) + ' ' + y.toFixed(1)).join('L') }));
    }));
    const cursor = make('line', { class: 'cursor', y1: frame.top, y2: height - frame.bottom });
    svg.append(cursor);
    const wide = 8 * Math.max(...names.map(name => name.length));
    spots(strong.map(s => s.points), wide, width, height).forEach((at, n) => {
      if (at) svg.append(text(at[0], at[1], 'start', names[strong[n].i], 'named'));
    });
    return { svg, cursor, last, toX, width };
  }

  // chart makes the figure of one chart.
  function figure(chart, names, room) {
    const drawn = draw(chart, names, room);
    const where = make('caption', {});
    const cells = chart.of.map(() => chart.lines.map(() => make('td', { class: 'number' })));
    const sample = i => make('svg', { viewBox: '0 0 34 8', width: '34', height: '8', 'aria-hidden': 'true' }, make('path', { class: 'of' + i, d: 'M0 4H34' }));
    const table = make('table', { class: 'reading' }, where,
      make('thead', {}, make('tr', {}, make('th', { scope: 'col' }, 'build'), ...chart.lines.map(line => make('th', { scope: 'col', class: 'number' }, `${line}, ${chart.y.unit}`)))),
      make('tbody', {}, ...chart.of.map((_, i) => make('tr', {}, make('th', { scope: 'row' }, sample(i), ' ' + names[i]), ...cells[i]))));
    let at = Math.round(drawn.last / 2);
    const value = (i, k) => {
      const of = chart.of[i];
      if (!of) return 'not known';
      return at < of[k].length ? say(of[k][at], chart.y.decimals) : '–';
    };
    function read(next) {
      at = Math.min(Math.max(next, 0), drawn.last);
      const x = drawn.toX(at * chart.step);
      drawn.cursor.setAttribute('x1', x);
      drawn.cursor.setAttribute('x2', x);
      where.textContent = `At ${say(at * chart.step, chart.x.decimals)} ${chart.x.unit}`;
      cells.forEach((row, i) => row.forEach((cell, k) => { cell.textContent = value(i, k); }));
      drawn.svg.setAttribute('aria-valuenow', String(at));
      drawn.svg.setAttribute('aria-valuetext', where.textContent + ': ' + names.map((name, i) => name + ', ' + chart.lines.map((line, k) => `${line} ${value(i, k)}`).join(', ')).join('; '));
    }
    const steps = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1, PageDown: -10, PageUp: 10, Home: -Infinity, End: Infinity };
    drawn.svg.addEventListener('keydown', event => {
      if (!(event.key in steps)) return;
      event.preventDefault();
      read(at + steps[event.key]);
    });
    const point = event => {
      const box = drawn.svg.getBoundingClientRect();
      const x = (event.clientX - box.left) / box.width * drawn.width;
      read(Math.round((x - drawn.toX(0)) / (drawn.toX(chart.step) - drawn.toX(0))));
    };
    for (const type of ['pointerdown', 'pointermove']) drawn.svg.addEventListener(type, point);
    read(at);
    return make('figure', {}, make('figcaption', {}, chart.title), drawn.svg, table);
  }

  const widest = 704, gap = 32, two = 900; // CSS pixels; two charts stand side by side from there on

  return (place, charts, names) => {
    let width = 0;
    const show = () => {
      width = place.clientWidth;
      const room = charts.length > 1 && width >= two ? (width - gap) / 2 : width;
      place.replaceChildren(...charts.map(chart => figure(chart, names, Math.round(Math.min(widest, Math.max(280, room))))));
    };
    show();
    if (place.watch) place.watch.disconnect();
    place.watch = new ResizeObserver(() => { if (place.clientWidth && place.clientWidth !== width) show(); });
    place.watch.observe(place);
  };
})();
