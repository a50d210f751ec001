// What a run of changes showed, as a table by folder and as the page that is kept of it.
import { folderOf } from './mutate.mjs'

/** Noticed: a test failed, or did not come to an end. */
const noticed = fate => fate === 'killed' || fate === 'out of time'

function table(results) {
  const folders = new Map()
  for (const { mutant, fate } of results) {
    const row = folders.get(folderOf(mutant.file)) ?? { tried: 0, killed: 0 }
    folders.set(folderOf(mutant.file), {
      tried: row.tried + 1,
      killed: row.killed + (noticed(fate) ? 1 : 0),
    })
  }
  const row = (name, { tried, killed }) =>
    `| ${name} | ${tried} | ${killed} | ${tried - killed} | ${((100 * killed) / tried).toFixed(0)} % |`
  const all = [...folders.values()].reduce(
    (sum, { tried, killed }) => ({ tried: sum.tried + tried, killed: sum.killed + killed }),
    { tried: 0, killed: 0 },
  )
  return [
    '| folder | tried | killed | survived | killed |',
    '|---|---:|---:|---:|---:|',
    ...[...folders].sort(([a], [b]) => (a < b ? -1 : 1)).map(([name, counts]) => row(name, counts)),
    row('all', all),
  ].join('\n')
}

const cell = text =>
  `\`${text.replaceAll(/\s+/g, ' ').replaceAll('|', '\\|').replaceAll('`', "'").slice(0, 60)}\``
const changeOf = mutant => `${mutant.file}: ${cell(mutant.was)} → ${cell(mutant.now)}`

/** The reasons that were written beside survivors: what stands in the last column of the page before. */
function reasonsIn(page) {
  const reasons = new Map()
  for (const line of page.split('\n')) {
    const parts = /^\| (src\/.*?) \| (\d+) \| (.*?) \|$/.exec(line)
    if (parts?.[3]) reasons.set(parts[1], parts[3])
  }
  return reasons
}

function page(results, { seed, version, before }) {
  const reasons = reasonsIn(before)
  const survivors = results
    .filter(({ fate }) => !noticed(fate))
    .map(({ mutant }) => ({ change: changeOf(mutant), line: mutant.line }))
    .sort((a, b) => (a.change < b.change ? -1 : 1))
  return `# Changes that the tests notice

A change is made in one place of \`src/core\` or \`src/logs\` (an operator, a constant ten times as large, a step left out),
and the quick tests of the same room that load the file are run: on the code of ${version}. \`npm run mutants -- --count ${results.length} --seed ${seed} --write\` makes this page;
reasons in the last column are written by hand and kept.

${table(results)}

## What survived

| change | line | why |
|---|---:|---|
${survivors.map(({ change, line }) => `| ${change} | ${line} | ${reasons.get(change) ?? ''} |`).join('\n')}
`
}

export const evidence = { table, page }
