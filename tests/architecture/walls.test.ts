import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const cruiser = join(root, 'node_modules/dependency-cruiser/bin/dependency-cruiser.mjs');
const config = join(root, '.dependency-cruiser.mjs');

interface Report { summary: { violations: { rule: { name: string }; from: string; to: string }[] }; modules: unknown[] }

function cruise(folder: string): Report {
  const done = spawnSync(process.execPath, [cruiser, '--config', config, '--output-type', 'json', 'catalog-schema', 'api', 'ui', 'tests'],
    { cwd: folder, encoding: 'utf8', maxBuffer: 1e9 });
  return JSON.parse(done.stdout) as Report;
}

/** For each rule a file that breaks it: [file, what it imports]. */
const BREACHES: Readonly<Record<string, readonly [string, string][]>> = {
  'no-cycles': [['api/store/a.ts', './b.ts'], ['api/store/b.ts', './a.ts']],
  'schema-knows-nobody': [['catalog-schema/x.ts', '../api/engine/index.ts']],
  'schema-libraries': [['catalog-schema/y.ts', 'lit']],
  'engine-is-pure': [['api/engine/p.ts', '../store/index.ts']],
  'engine-libraries': [['api/engine/fit/q.ts', 'node:fs']],
  'store-knows-only-the-schema': [['api/store/s.ts', '../engine/index.ts']],
  'services-know-no-door': [['api/services/v.ts', '../http/index.ts']],
  'doors-do-not-open-the-store': [['api/http/h.ts', '../store/index.ts']],
  'doors-are-apart': [['api/cli/c.ts', '../http/index.ts']],
  'screens-take-only-types-of-the-server': [['ui/u.ts', '../api/services/index.ts']],
  'screens-reach-the-engine-through-the-worker': [['ui/screens/w.ts', '../../api/engine/index.ts']],
  'through-the-door': [['api/engine/fit/d.ts', '../rewire/behind.ts']],
  'no-test-in-the-product': [['api/services/t.ts', '../../tests/some.ts']],
  'no-dev-package-in-the-product': [['api/services/n.ts', 'vitest']],
  resolvable: [['ui/r.ts', './not-there.ts']],
};
const STANDING = ['api/engine/index.ts', 'api/engine/rewire/behind.ts', 'api/store/index.ts', 'api/services/index.ts', 'api/http/index.ts', 'tests/some.ts', 'ui/app.ts'];

describe('the walls between the folders', () => {
  const folder = mkdtempSync(join(tmpdir(), 'walls-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const write = (file: string, words: string) => {
    mkdirSync(dirname(join(folder, file)), { recursive: true });
    writeFileSync(join(folder, file), words);
  };

  it('each fail when something is built through them', async () => {
    symlinkSync(join(root, 'node_modules'), join(folder, 'node_modules'));
    // dependency-cruiser tells development packages apart by the manifest it stands beside
    symlinkSync(join(root, 'package.json'), join(folder, 'package.json'));
    for (const file of STANDING) write(file, 'export const here = 1;\n');
    for (const [file, target] of Object.values(BREACHES).flat()) write(file, `import * as broken from '${target}';\nexport const use = broken;\n`);
    const broken = new Set(cruise(folder).summary.violations.map((violation) => violation.rule.name));
    const { default: rules } = (await import(config)) as { default: { forbidden: { name: string }[] } };
    expect(Object.keys(BREACHES).toSorted()).toEqual(rules.forbidden.map((rule) => rule.name).toSorted());
    expect([...broken].toSorted()).toEqual(Object.keys(BREACHES).toSorted());
  }, 60_000);

  it('stand in this checkout', () => {
    const report = cruise(root);
    expect(report.modules.length).toBeGreaterThan(50);
    expect(report.summary.violations.map(({ rule, from, to }) => `${rule.name}: ${from} imports ${to}`)).toEqual([]);
  }, 120_000);

  it('keep git free of what set-up makes', () => {
    const tracked = execFileSync('git', ['ls-files'], { cwd: root, encoding: 'utf8' }).split('\n');
    expect(tracked.filter((file) => file.startsWith('.local/') || file.startsWith('node_modules/'))).toEqual([]);
    const top = new Set(tracked.filter((file) => file !== '').map((file) => file.split('/')[0]!));
    const allowed = ['README.md', 'DEVELOPERS.md', 'package.json', 'package-lock.json', 'tsconfig.json', 'vite.config.ts', 'LICENSE', 'CHANGELOG.md',
      'api', 'ui', 'catalog-schema', 'tests', 'demo-catalog', '.ci', '.gitignore', '.oxlintrc.json', '.dependency-cruiser.mjs'];
    expect([...top].filter((name) => !allowed.includes(name))).toEqual([]);
  });
});
