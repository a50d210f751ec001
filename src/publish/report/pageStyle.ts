import { goesOn } from './goesOn.ts'

/** How a report looks; its colours and fonts are set before it. */
export const PAGE_STYLE = `
* { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink); line-height: 1.5; overflow-wrap: break-word;
  font-family: 'Atkinson Hyperlegible', 'Helvetica Neue', Arial, sans-serif; font-variant-numeric: tabular-nums; }
main { max-width: 1008px; margin: 0 auto; padding: 24px; }
h1, h2, h3 { line-height: 1.2; text-wrap: balance; }
h1 { font-size: 2rem; margin: 8px 0; }
h2 { margin: 48px 0 12px; padding-top: 12px; border-top: 1px solid var(--rule); }
h3 { margin: 40px 0 8px; }
p, li, .ledger { max-width: 72ch; }
p { margin: 8px 0; }
.question { font-size: 1.25rem; }
.lead { font-size: 1.375rem; line-height: 1.4; }
.pencil { color: var(--pencil); }
.warning { border-left: 3px solid var(--warning); padding-left: 12px; }
a { color: var(--accent); }
nav ul { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: 4px 20px; }
nav a { display: inline-block; padding: 4px 0; }
:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
figure { margin: 20px 0; }
figure svg { display: block; width: 100%; height: auto; }
figure .upright { display: none; }
figcaption { color: var(--pencil); font-size: 0.9375rem; }
figure img { display: block; max-width: 100%; max-height: 32rem; }
.scroll { overflow-x: auto; margin: 16px 0; ${goesOn('var(--paper)', 'var(--pencil)')} }
table { border-collapse: collapse; min-width: 50%; }
caption { text-align: left; color: var(--pencil); font-size: 0.9375rem; padding-bottom: 4px;
  max-width: min(72ch, calc(100vw - 48px)); }
th, td { text-align: right; padding: 4px 0 4px 20px; border-bottom: 1px solid var(--rule); white-space: nowrap; }
th:first-child, td:first-child { text-align: left; padding-left: 0; }
.ledger { margin: 12px 0; }
.ledger table { min-width: 0; }
.ledger td { vertical-align: top; border: 0; padding: 1px 0; white-space: normal; }
.ledger td:first-child { text-align: right; white-space: nowrap; padding-right: 16px; }
.ledger td + td { text-align: left; }
.ledger .total td { border-top: 1px solid var(--pencil); font-weight: 700; }
details { margin: 16px 0; border-top: 1px solid var(--rule); }
summary { padding: 12px 0; min-height: 44px; cursor: pointer; color: var(--accent); font-weight: 700; }
.look { display: flex; flex-wrap: wrap; align-items: center; gap: 8px; margin: 8px 0; }
.look button { font: inherit; color: var(--ink); background: none; border: 1px solid var(--pencil); border-radius: 4px;
  min-height: 32px; padding: 2px 12px; cursor: pointer; }
.look output { min-height: 1.5em; }
[data-curve] svg { touch-action: pan-y; user-select: none; -webkit-user-select: none; }
@media (max-width: 640px) {
  main { padding: 12px; }
  h1 { font-size: 1.625rem; }
  .lead { font-size: 1.1875rem; }
  figure .page { display: none; }
  figure .upright { display: block; }
  .ledger .total td:first-child { white-space: normal; }
}
@media print {
  @page { margin: 16mm 14mm; }
  html { font-size: 10.5pt; }
  main { max-width: none; padding: 0; }
  nav, .look { display: none; }
  h2, h3, caption { break-after: avoid; }
  p:has(+ figure), p:has(+ p + figure), p:has(+ p + p + figure) { break-after: avoid; }
  h2 { margin-top: 28px; }
  figure, tr, .ledger, .warning { break-inside: avoid; }
  figure .page { display: block; }
  figure .upright { display: none; }
  figure svg { max-height: 120mm; }
  .scroll { overflow: visible; padding-bottom: 0; background: none; }
  summary { list-style: none; color: inherit; padding: 4px 0; min-height: 0; }
  details::details-content { content-visibility: visible; block-size: auto; }
  table { font-size: 9pt; }
  th, td { padding-left: 10px; }
  a { color: inherit; text-decoration: none; }
}
`
