import type { Page } from 'playwright-core'

/** Runs in the page: what of it cannot be read as it stands, each with where. */
const LOOKS_FAULTS = `(() => {
  const faults = [];
  const shown = element => {
    const { width, height } = element.getBoundingClientRect();
    const { visibility, clipPath, opacity } = getComputedStyle(element);
    return element.checkVisibility({ visibilityProperty: true }) && width > 1 && height > 1 && visibility !== 'hidden' && clipPath === 'none' && opacity !== '0';
  };
  const words = element => element.textContent.trim().replace(/\\s+/g, ' ').slice(0, 60);
  const ownText = element => [...element.childNodes].some(node => node.nodeType === 3 && node.data.trim() !== '');

  // A text that its box cuts off; one that ends in an ellipsis says itself that it goes on.
  for (const element of document.querySelectorAll('body *:not(svg *):not(option):not(textarea)')) {
    if (!ownText(element) || !shown(element) || element.closest('.hidden-words')) continue;
    const { overflowX, textOverflow } = getComputedStyle(element);
    if (overflowX === 'hidden' && textOverflow !== 'ellipsis' && element.scrollWidth > element.clientWidth + 1)
      faults.push('cut off: ' + words(element));
    const { right, left } = element.getBoundingClientRect();
    const box = element.closest('.scroll-x, .specimens, iframe');
    if (box === null && (right > innerWidth + 1 || left < -1)) faults.push('beyond the window: ' + words(element));
  }

  // Labels of one drawing lie apart from each other and within it.
  for (const svg of document.querySelectorAll('svg')) {
    if (!shown(svg)) continue;
    const frame = svg.getBoundingClientRect();
    const cuts = getComputedStyle(svg).overflow === 'hidden';
    const labels = [...svg.querySelectorAll('text')].filter(shown).map(text => ({ text: words(text), box: text.getBoundingClientRect() }));
    for (const { text, box } of labels)
      if (cuts && (box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 2 || box.bottom > frame.bottom + 2))
        faults.push('out of its drawing: ' + text);
    labels.forEach((one, i) => {
      for (const other of labels.slice(i + 1)) {
        const across = Math.min(one.box.right, other.box.right) - Math.max(one.box.left, other.box.left);
        // Lines of text stand closer than their boxes, which have room above and below the letters.
        const down = Math.min(one.box.bottom, other.box.bottom) - Math.max(one.box.top, other.box.top);
        if (across > 1 && down > 5) faults.push('over each other: ' + one.text + ' | ' + other.text);
      }
    });
  }

  // Buttons and fields do not lie on one another.
  const pressed = [...document.querySelectorAll('main button, main a.button, main input, main select')].filter(
    element => shown(element) && !element.closest('.compare-plot, .curve-box'),
  );
  pressed.forEach((one, i) => {
    const a = one.getBoundingClientRect();
    for (const other of pressed.slice(i + 1)) {
      const b = other.getBoundingClientRect();
      const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
      if (across > 2 && down > 2 && !one.contains(other) && !other.contains(one))
        faults.push('on each other: ' + (words(one) || one.id) + ' | ' + (words(other) || other.id));
    }
  });
  return faults;
})()`

/** Text that is cut off or runs out of the window, labels over each other or out of their drawing, buttons on each other. */
export const looksFaults = (page: Page): Promise<string[]> => page.evaluate<string[]>(LOOKS_FAULTS)
