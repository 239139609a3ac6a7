// The walls of the house: who may import whom, each rule with its reason. tests/architecture breaks each once.
const own = '^(catalog-schema|api|ui|tests)/';
const test = '\\.test\\.ts$|^tests/';

/** @type {import('dependency-cruiser').IConfiguration} */
export default {
  forbidden: [
    {
      name: 'no-cycles', severity: 'error',
      comment: 'A cycle is one module in two files: it cannot be read, tested or moved in pieces.',
      from: { path: own }, to: { circular: true },
    },
    {
      name: 'schema-knows-nobody', severity: 'error',
      comment: 'A stranger must be able to read and write a catalogue with catalog-schema alone.',
      from: { path: '^catalog-schema/', pathNot: test }, to: { path: '^(api|ui|tests)/' },
    },
    {
      name: 'schema-libraries', severity: 'error',
      comment: 'catalog-schema takes zod and the quantity libraries, nothing heavier: every door loads it.',
      from: { path: '^catalog-schema/', pathNot: `${test}|^catalog-schema/(folder/|(write-json-schemas|lint/main)\\.ts$)` },
      to: { dependencyTypesNot: ['local', 'type-only'], pathNot: 'node_modules/(zod|fraction\\.js)/' },
    },
    {
      name: 'engine-is-pure', severity: 'error',
      comment: 'The engine runs unchanged in Node, the command line and the browser: no Node module, no store, no HTTP.',
      from: { path: '^api/engine/', pathNot: test }, to: { path: '^(api/(store|services|http|cli|set-up)|catalog-schema/folder|ui|tests)/' },
    },
    {
      name: 'engine-libraries', severity: 'error',
      comment: 'Only pure libraries: fuse.js ranks words.',
      from: { path: '^api/engine/', pathNot: test },
      to: { dependencyTypesNot: ['local', 'type-only'], pathNot: 'node_modules/fuse\\.js/' },
    },
    {
      name: 'store-knows-only-the-schema', severity: 'error',
      comment: 'SQL decides nothing: what a row means is the engine\'s, where they meet is the services\'.',
      from: { path: '^api/store/', pathNot: test }, to: { path: '^(api/(engine|services|http|cli)|ui|tests)/' },
    },
    {
      name: 'services-know-no-door', severity: 'error',
      comment: 'A service is called by every door, so it knows none.',
      from: { path: '^api/services/', pathNot: test }, to: { path: '^(api/(http|cli)|ui|tests)/' },
    },
    {
      name: 'doors-do-not-open-the-store', severity: 'error',
      comment: 'A rule that lives in a route or a command is missing at the other doors.',
      from: { path: '^api/(http|cli)/', pathNot: test }, to: { path: '^(api/store|ui|tests)/' },
    },
    {
      name: 'doors-are-apart', severity: 'error',
      comment: 'HTTP and command line share services, not each other.',
      from: { path: '^api/cli/', pathNot: test }, to: { path: '^api/http/' },
    },
    {
      name: 'screens-take-only-types-of-the-server', severity: 'error',
      comment: 'Server code in the browser bundle is weight and a leak.',
      from: { path: '^ui/', pathNot: test }, to: { path: '^api/(store|services|http|cli|set-up)/', dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'screens-reach-the-engine-through-the-worker', severity: 'error',
      comment: 'A fit on the main thread freezes the screen.',
      from: { path: '^ui/', pathNot: `${test}|^ui/worker/` }, to: { path: '^api/engine/', dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'through-the-door', severity: 'error',
      comment: 'Each folder has one door, index.ts: what stands behind it can move.',
      from: { path: '^(api/(?:engine/[^/]+|store|services|http)|catalog-schema)/', pathNot: test },
      to: {
        path: '^(api/(?:engine/[^/]+|store|services|http)|catalog-schema)/',
        pathNot: ['/index\\.ts$', '^$1/', '^api/engine/[^/]+\\.ts$'],
      },
    },
    {
      name: 'no-test-in-the-product', severity: 'error',
      comment: 'What ships must not need what only tests install.',
      from: { path: own, pathNot: test }, to: { path: test },
    },
    {
      name: 'no-dev-package-in-the-product', severity: 'error',
      comment: 'The product runs on its dependencies alone.',
      from: { path: '^(catalog-schema|api)/', pathNot: test }, to: { dependencyTypes: ['npm-dev'], dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'resolvable', severity: 'error', comment: 'An import that leads nowhere.', from: { path: own }, to: { couldNotResolve: true },
    },
  ],
  options: {
    parser: 'swc',
    tsPreCompilationDeps: true,
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '^\\.local/|\\.css$|\\?' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'node', 'default', 'types'], extensions: ['.ts', '.js', '.mjs', '.json'] },
  },
};
