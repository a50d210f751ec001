/** Import rules: the walls of docs/architecture.md. A room may import from the rooms that its row names, and from itself. */
const MAY_IMPORT = {
  core: [],
  logs: ['core'],
  capture: ['core', 'logs'],
  store: ['core', 'logs'],
  publish: ['core', 'logs'],
  server: ['core', 'logs', 'capture', 'store', 'publish'],
  cli: ['core', 'logs', 'capture', 'store', 'publish', 'server'],
  web: ['core', 'logs', 'publish'],
}

const walls = Object.entries(MAY_IMPORT).map(([room, others]) => ({
  name: `${room}-imports-only-${others.join('-') || 'itself'}`,
  severity: 'error',
  comment: `src/${room} may import from: ${[room, ...others].join(', ')}`,
  from: { path: `^src/${room}/` },
  to: {
    path: '^src/',
    pathNot: [
      `^src/(${[room, ...others].join('|')})/`,
      // The app may use the types of the server, never its code.
      // It captures by itself, with what is pure of the capture and the desk that the server has too.
      ...(room === 'web'
        ? [
            '^src/server/.*[tT]ypes\\.ts$',
            '^src/server/desk/',
            '^src/capture/(?!node/|index)',
            // Samples as a store packs them: what a page saves, a store takes in.
            '^src/store/pack/(series|scale|varint)\\.ts$',
          ]
        : []),
    ],
  },
}))

module.exports = {
  forbidden: [
    ...walls,
    {
      name: 'no-circles',
      severity: 'error',
      comment: 'Imports run one way; a circle is a fault.',
      from: {},
      to: { circular: true },
    },
    {
      name: 'core-and-logs-are-pure',
      severity: 'error',
      comment: 'core and logs work on numbers and bytes: no Node, no files, no DOM.',
      from: { path: '^src/(core|logs)/' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'publish-is-pure-but-for-its-node-folders',
      severity: 'error',
      comment:
        'What composes figures, reports and captions runs in the page too: Node lives in publish/node and publish/clip.',
      from: { path: '^src/publish/', pathNot: '^src/publish/(clip|node)/' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'capture-and-desk-are-pure-but-for-node',
      severity: 'error',
      comment:
        'The capture loop and the desk of a line run in a page too: what needs Node lives in capture/node, and only the index of the room names it.',
      from: { path: '^src/(capture|server/desk)/', pathNot: '^src/capture/(node/|index)' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'capture-and-desk-do-without-node',
      severity: 'error',
      from: { path: '^src/(capture|server/desk)/', pathNot: '^src/capture/(node/|index)' },
      to: { path: '^src/(capture/(node/|index)|store/(?!(store|types|fault)\\.ts))' },
    },
    {
      name: 'pages-do-without-node',
      severity: 'error',
      from: { path: '^src/(web|publish)/', pathNot: '^src/publish/(clip|node)/' },
      to: { path: '^src/publish/node/' },
    },
    {
      name: 'no-test-code-in-src',
      severity: 'error',
      from: { path: '^src/' },
      to: { path: '^(test|benchmarks|scripts)/' },
    },
    {
      name: 'declared-dependencies-only',
      severity: 'error',
      comment:
        'What src imports must stand in package.json. It may stand among the development tools: it is bundled. The trial of the packed package finds what is not.',
      from: { path: '^src/' },
      to: {
        dependencyTypes: ['npm-no-pkg', 'npm-unknown', 'unknown', 'undetermined'],
        dependencyTypesNot: ['npm', 'npm-dev'],
      },
    },
  ],
  options: {
    tsConfig: { fileName: 'tsconfig.json' },
    tsPreCompilationDeps: true,
    doNotFollow: { path: 'node_modules' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'types', 'node', 'default'],
    },
  },
}
