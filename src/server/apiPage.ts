import { JSON_BYTES, type Route } from './route.ts'

const escaped = (text: string): string => text.replace(/[&<>"']/g, sign => `&#${sign.charCodeAt(0)};`)

/** The description as a page that asks for nothing else but its style. */
export function apiPage(routes: readonly Route[]): string {
  const rows = routes.map(
    ({ method, path, summary, answers, body, bytes, onScreen }) => `<tr>
<td><code>${method}</code></td><td><code>${escaped(path)}</code></td>
<td>${escaped(summary)}${onScreen ? ' (also on a second screen)' : ''}</td>
<td>${body ? `JSON, at most ${JSON_BYTES / 1024} KiB` : bytes === null ? '' : `a file, at most ${bytes / 1024 / 1024} MiB`}</td>
<td><code>${escaped(answers)}</code></td></tr>`,
  )
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1">
<title>Tenterhook: what the server answers</title><link rel="stylesheet" href="/api/docs.css"></head>
<body><main><h1>What the server answers</h1>
<p>JSON both ways; times in seconds, forces in newton. What was wrong comes as <code>{ "problems": [{ "where", "what", "cure" }] }</code>, some with a <code>code</code>.
The live stream is a WebSocket at <code>/api/live</code>; its first message is a snapshot, and so is the first one after a viewer fell behind.
The same for programs, with the shape of every body: <a href="/api/openapi.json">openapi.json</a>.</p>
<div class="wide"><table><thead><tr><th>Method</th><th>Path</th><th>What it does</th><th>Body</th><th>Answers</th></tr></thead>
<tbody>${rows.join('\n')}</tbody></table></div></main></body></html>
`
}

export const API_PAGE_STYLE = `body{margin:0;background:#faf8f2;color:#20242a;font:16px/1.5 system-ui,sans-serif}
main{max-width:80rem;margin:0 auto;padding:2rem}
h1{font-size:1.5rem}
.wide{overflow-x:auto}
table{border-collapse:collapse}
th,td{text-align:left;vertical-align:top;padding:.4rem .8rem .4rem 0;border-bottom:1px solid #d8d5cb}
a{color:#1f4e8c}
@media (prefers-color-scheme:dark){body{background:#12161b;color:#ece8dc}th,td{border-color:#3a3f46}a{color:#8db4f0}}
`
