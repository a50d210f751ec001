/**
 * Lets one look closer at the curves of a report: zoom and pan in time, and the reading under the pointer. It works on
 * the figure that is there anyway, by its `data-` attributes, and reads the curve from a data block beside it. Written by
 * hand and kept small; a page allows it by its hash and nothing else.
 */
export const PAGE_SCRIPT = `'use strict';
(() => {
  const NS = 'http://www.w3.org/2000/svg';
  const numbers = text => text.split(' ').map(Number);
  const make = (name, given) => {
    const node = document.createElementNS(NS, name);
    for (const key in given) node.setAttribute(key, given[key]);
    return node;
  };
  let clips = 0;

  function niceStep(span, most) {
    const rough = span / most;
    const power = 10 ** Math.floor(Math.log10(rough));
    return [1, 2, 5, 10].map(k => k * power).find(step => step >= rough);
  }

  /** One drawing of the curve: what it takes to show another stretch of time in it. */
  function plotOf(svg, data) {
    const [left, right, top, bottom] = numbers(svg.dataset.plot);
    const [allFrom, allTo] = numbers(svg.dataset.time);
    const [lowN, highN] = numbers(svg.dataset.force);
    const yOf = force => bottom - ((force * data.perN - lowN) / (highN - lowN)) * (bottom - top);
    const fullX = s => left + ((s - allFrom) / (allTo - allFrom)) * (right - left);
    const id = 'closer-' + ++clips;
    const clip = make('clipPath', { id });
    clip.append(make('rect', { x: left, y: top - 8, width: right - left, height: bottom - top + 8 }));
    svg.append(clip);
    const curve = svg.querySelector('[data-part=curve]');
    const raw = svg.querySelector('[data-part=raw]');
    for (const path of [curve, raw]) path.setAttribute('clip-path', 'url(#' + id + ')');
    const still = { curve: curve.getAttribute('d'), raw: raw.getAttribute('d') };
    const time = svg.querySelector('[data-part=time]').firstElementChild;
    const axisY = Number(time.querySelector('line').getAttribute('y1'));
    const words = [...time.querySelectorAll('text')];
    const tickY = words[0].getAttribute('y');
    const lineColour = time.querySelector('line').getAttribute('stroke');
    const size = Number(time.getAttribute('font-size'));
    const ticks = Math.max(2, Math.min(8, Math.floor((right - left) / (5 * size))));
    const mark = make('g', { visibility: 'hidden' });
    const rule = make('line', { y1: top, y2: bottom, stroke: 'var(--ink)', 'stroke-width': 0.75 });
    const dot = make('circle', { r: 5, fill: 'var(--paper)', stroke: 'var(--ink)', 'stroke-width': 1.5 });
    mark.append(rule, dot);
    svg.append(mark);

    function pathOf(values, xOf, from, to) {
      let d = '', pen = 'M';
      for (let i = from; i <= to; i++) {
        if (values[i] === null || data.timeS[i] === null) { pen = 'M'; continue; }
        d += pen + xOf(data.timeS[i]).toFixed(2) + ' ' + yOf(values[i]).toFixed(2);
        pen = 'L';
      }
      return d;
    }

    function show(from, to) {
      const whole = from === allFrom && to === allTo;
      const xOf = s => left + ((s - from) / (to - from)) * (right - left);
      let first = 0, last = data.timeS.length - 1;
      while (first < last && data.timeS[first + 1] < from) first++;
      while (last > first && data.timeS[last - 1] > to) last--;
      curve.setAttribute('d', whole ? still.curve : pathOf(data.force, xOf, first, last));
      if (data.raw.length > 0) raw.setAttribute('d', whole ? still.raw : pathOf(data.raw, xOf, first, last));
      else raw.setAttribute('visibility', whole ? 'visible' : 'hidden');
      for (const node of svg.querySelectorAll('[data-at]')) {
        const at = Number(node.dataset.at);
        node.setAttribute('transform', 'translate(' + (xOf(at) - fullX(at)).toFixed(2) + ' 0)');
        node.setAttribute('visibility', at >= from && at <= to ? 'visible' : 'hidden');
      }
      for (const node of svg.querySelectorAll('[data-from]')) {
        const a = Math.max(left, Math.min(right, xOf(Number(node.dataset.from))));
        const b = Math.max(left, Math.min(right, xOf(Number(node.dataset.to))));
        if (node.tagName === 'line') { node.setAttribute('x1', a); node.setAttribute('x2', b); continue; }
        for (const strip of node.querySelectorAll(':scope > rect, :scope > clipPath > rect')) {
          strip.setAttribute('x', a);
          strip.setAttribute('width', Math.max(0, b - a));
        }
        const word = node.querySelector('[data-part="word"]');
        if (!word) continue;
        const back = word.querySelector('rect');
        const wide = Number(back.getAttribute('width'));
        back.setAttribute('x', (a + b - wide) / 2);
        word.querySelector('text').setAttribute('x', (a + b) / 2);
        word.setAttribute('visibility', wide <= b - a ? 'visible' : 'hidden');
      }
      const label = words[words.length - 1];
      time.replaceChildren(make('line', { x1: left, x2: right, y1: axisY, y2: axisY, stroke: lineColour }));
      const step = niceStep(to - from, ticks);
      const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
      for (let k = Math.ceil(from / step - 1e-9); k * step <= to + 1e-9 * step; k++) {
        const x = xOf(k * step);
        const text = make('text', { x, y: tickY, 'text-anchor': 'middle' });
        text.textContent = (k * step).toFixed(decimals).replace('-', '\\u2212');
        time.append(make('line', { x1: x, x2: x, y1: axisY, y2: axisY + 5, stroke: lineColour }), text);
      }
      time.append(label);
    }

    return {
      svg, show,
      point(place, from, to) {
        if (place === null) return mark.setAttribute('visibility', 'hidden');
        const x = left + ((data.timeS[place] - from) / (to - from)) * (right - left);
        mark.setAttribute('visibility', x < left || x > right ? 'hidden' : 'visible');
        rule.setAttribute('x1', x);
        rule.setAttribute('x2', x);
        dot.setAttribute('cx', x);
        dot.setAttribute('cy', yOf(data.force[place]));
      },
      timeAt(clientX, from, to) {
        const box = svg.getBoundingClientRect();
        const view = svg.viewBox.baseVal;
        const x = view.x + ((clientX - box.left) / box.width) * view.width;
        return from + ((x - left) / (right - left)) * (to - from);
      },
    };
  }

  function closer(figure) {
    const data = JSON.parse(figure.querySelector('script[type="application/json"]').textContent);
    if (data.timeS.length < 2) return;
    const plots = [...figure.querySelectorAll('svg')].map(svg => plotOf(svg, data));
    const [allFrom, allTo] = numbers(plots[0].svg.dataset.time);
    const leastSpan = Math.min(allTo - allFrom, Math.max((allTo - allFrom) / 200, 20 * (allTo - allFrom) / data.timeS.length));
    let from = allFrom, to = allTo, place = null;
    const out = document.createElement('output');
    const known = i => data.timeS[i] !== null && data.force[i] !== null;

    function nearest(s) {
      let best = null;
      for (let i = 0; i < data.timeS.length; i++)
        if (known(i) && (best === null || Math.abs(data.timeS[i] - s) < Math.abs(data.timeS[best] - s))) best = i;
      return best;
    }
    function point(next) {
      place = next;
      for (const plot of plots) plot.point(place, from, to);
      if (place === null) return;
      const force = data.force[place];
      const inN = data.unit === 'N' ? '' : ' (' + (force * data.perN).toPrecision(4).replace('-', '\\u2212') + ' N)';
      out.textContent = data.timeS[place].toFixed(2) + ' s: ' + force.toFixed(data.decimals).replace('-', '\\u2212') + ' ' + data.unit + inN;
    }
    function view(nextFrom, nextTo) {
      const span = Math.min(allTo - allFrom, Math.max(leastSpan, nextTo - nextFrom));
      from = Math.max(allFrom, Math.min(allTo - span, nextFrom + (nextTo - nextFrom - span) / 2));
      to = from + span;
      if (span >= (allTo - allFrom) * 0.999) { from = allFrom; to = allTo; }
      for (const plot of plots) plot.show(from, to);
      for (const plot of plots) plot.svg.style.cursor = to - from < allTo - allFrom ? 'grab' : 'crosshair';
      point(place);
    }
    function zoom(factor, at) {
      const span = (to - from) * factor;
      const share = (at - from) / (to - from);
      view(at - share * span, at - share * span + span);
    }
    const middle = () => (place !== null && data.timeS[place] >= from && data.timeS[place] <= to ? data.timeS[place] : (from + to) / 2);

    const bar = document.createElement('div');
    bar.className = 'look';
    for (const [word, act] of [
      ['Closer', () => zoom(0.5, middle())],
      ['Wider', () => zoom(2, middle())],
      ['All', () => view(allFrom, allTo)],
    ]) {
      const button = document.createElement('button');
      button.type = 'button';
      button.textContent = word;
      button.addEventListener('click', act);
      bar.append(button);
    }
    bar.append(out);
    out.textContent = 'Point at the curve to read it; drag to move.';
    figure.insertBefore(bar, figure.querySelector('figcaption'));

    for (const plot of plots) {
      const { svg } = plot;
      let drag = null;
      svg.addEventListener('pointermove', event => {
        const s = plot.timeAt(event.clientX, from, to);
        if (drag && event.buttons > 0) {
          const by = plot.timeAt(drag.x, drag.from, drag.to) - plot.timeAt(event.clientX, drag.from, drag.to);
          view(drag.from + by, drag.to + by);
        }
        point(nearest(Math.max(from, Math.min(to, s))));
      });
      svg.addEventListener('pointerdown', event => {
        drag = { x: event.clientX, from, to };
        svg.setPointerCapture(event.pointerId);
      });
      svg.addEventListener('pointerup', () => { drag = null; });
      svg.addEventListener('pointercancel', () => { drag = null; });
      svg.addEventListener('dblclick', event => zoom(0.5, plot.timeAt(event.clientX, from, to)));
      svg.addEventListener('wheel', event => {
        if (!event.ctrlKey) return;
        event.preventDefault();
        zoom(event.deltaY > 0 ? 1.25 : 0.8, plot.timeAt(event.clientX, from, to));
      }, { passive: false });
    }
    figure.tabIndex = 0;
    figure.addEventListener('keydown', event => {
      if (event.target !== figure || event.ctrlKey || event.altKey || event.metaKey) return;
      const step = (to - from) / 50;
      const keys = {
        ArrowLeft: () => event.shiftKey ? view(from - 5 * step, to - 5 * step) : point(nearest(Math.max(from, middle() - step))),
        ArrowRight: () => event.shiftKey ? view(from + 5 * step, to + 5 * step) : point(nearest(Math.min(to, middle() + step))),
        '+': () => zoom(0.5, middle()),
        '=': () => zoom(0.5, middle()),
        '-': () => zoom(2, middle()),
        0: () => view(allFrom, allTo),
      };
      if (!keys[event.key]) return;
      event.preventDefault();
      keys[event.key]();
    });
    view(allFrom, allTo);
  }

  for (const figure of document.querySelectorAll('[data-curve]')) closer(figure);
})();
`

/** SHA-256 of the script in base64, by which a page's policy lets it run; a test holds the two together. */
export const PAGE_SCRIPT_SHA256 = 'ddq39b5T0UJJOvKjv0PgBp6YCTZBDWIXaZOBIIn8s5Q='
