import { PAGE_SCRIPT_SHA256 } from './pageScript.ts'

/**
 * The frame in which the app shows a report as it will be read. It has no rights of the app: its origin is its own, and
 * it hears but its parent, which sends `{ page }` (a report as HTML, with `at`: an id to show), or `{ print: true }`.
 * It tells its parent `ready` when it can hear.
 */

/** A link within the report would lead a frame without an address out of it, so it is followed here. */
export const FRAME_SCRIPT = `'use strict';
(() => {
  const follow = event => {
    const link = event.target instanceof Element ? event.target.closest('a[href^="#"]') : null;
    if (!link) return;
    event.preventDefault();
    document.getElementById(link.getAttribute('href').slice(1))?.scrollIntoView();
  };
  const hear = event => {
    if (event.source !== parent || typeof event.data !== 'object' || event.data === null) return;
    const { page, at, print: isPrint } = event.data;
    if (isPrint === true) print();
    if (typeof page !== 'string') return;
    const y = scrollY;
    document.open();
    document.write(page);
    document.close();
    listen();
    const place = typeof at === 'string' ? document.getElementById(at) : null;
    if (place) place.scrollIntoView();
    else scrollTo(0, y);
    parent.postMessage('shown', '*');
  };
  const listen = () => {
    addEventListener('message', hear);
    document.addEventListener('click', follow);
  };
  listen();
  parent.postMessage('ready', '*');
})();
`
/** SHA-256 of it in base64; a test holds the two together. */
export const FRAME_SCRIPT_SHA256 = 'l9buimR3JUlWoR52y1S/R3b/Devi+3m5T7iPhQlmvXs='

export const PREVIEW_FRAME = `<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><title>Preview</title><link rel="icon" href="data:,"></head>
<body><script>${FRAME_SCRIPT}</script></body>
</html>
`

/** What the frame may do, for the server that hands it out: run its own script and the report's, and nothing else. */
export const FRAME_POLICY = [
  "default-src 'none'",
  `script-src 'sha256-${FRAME_SCRIPT_SHA256}' 'sha256-${PAGE_SCRIPT_SHA256}'`,
  "style-src 'unsafe-inline'",
  'img-src data:',
  'font-src data:',
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'self'",
  'sandbox allow-scripts allow-modals',
].join('; ')
