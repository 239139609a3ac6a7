import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { find } from '../../api/engine/index.ts';
import { findAnswer, readReplacements, type Catalogue, type FindAnswer, type Part, type Replacements } from '../../catalog-schema/index.ts';
import { readCataloguePath } from '../../catalog-schema/folder/index.ts';
import { ENGINE_FUNCTIONS } from '../../ui/worker/engine-functions.ts';
import { goodPart } from './good-input.ts';
import { demoFolder, openHttpDoor } from './open-doors.ts';
import { runCli } from './run-cli.ts';

// Look-ups through every door: function, browser worker, HTTP and command line give the same answer to the last digit.

/** Of the demo: as written, written otherwise, misread, claimed, superseded by a kit, by words, a trade item number read wrong, and odd ones. */
const TEXTS = [
  'KD200C12', 'kd-200 c12', 'KD2OOC12', 'KD200C21', 'KD20C12', 'OV 3120-24', 'D 1188', 'd1188', 'D 1I88', '1047', 'contactor 24 V', 'solenoid', 'contctor', '6291041500214', 'kd-200c24',
  '\uFF2B\uFF24200\uFF231\uFF12', 'KD/200/C12', '00200', 'K', '', 'nothing at all like this', 'x'.repeat(2_000), '\u{1F600}',
];

const folder = mkdtempSync(join(tmpdir(), 'found-'));
const save = (name: string, value: unknown): string => {
  const path = join(folder, name);
  writeFileSync(path, JSON.stringify(value));
  return path;
};

describe('every door', () => {
  let http: Awaited<ReturnType<typeof openHttpDoor>>;
  let catalogue: Catalogue;
  beforeAll(async () => {
    http = await openHttpDoor();
    const read = readCataloguePath(demoFolder);
    if (!read.ok) throw new Error('the demo does not read');
    catalogue = read.value;
  });
  afterAll(async () => {
    await http.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it('finds alike, one line in and one line out', async () => {
    ENGINE_FUNCTIONS.load(catalogue, undefined);
    const expected = TEXTS.map((text) => find(text, catalogue));
    expect(TEXTS.map((text) => ENGINE_FUNCTIONS.find(text))).toEqual(expected);
    for (const [at, text] of TEXTS.entries()) expect((await http.get(`/api/find?text=${encodeURIComponent(text)}`)).body).toEqual(expected[at]);
    const { exitCode, out, err } = await runCli(['find', '-', '--json', '--catalog', demoFolder], TEXTS.join('\n'));
    expect({ exitCode, err }).toEqual({ exitCode: 0, err: '' });
    const lines = out.trimEnd().split('\n').map((line) => JSON.parse(line) as FindAnswer);
    expect(lines).toEqual(expected);
    for (const line of lines) expect(findAnswer.safeParse(line).error).toBeUndefined();
  }, 30_000);

  it('answers empty lines, NUL and other signs in their place, and refuses a line that is too long without losing the others', async () => {
    const texts = ['', 'KD\u0000200C12', 'x'.repeat(2_001), 'KD200C12\u2028', 'KD200C12\r', 'KD200C12'];
    const { exitCode, out, err } = await runCli(['find', '-', '--catalog', demoFolder], `${texts.join('\n')}\n`);
    const lines = out.trimEnd().split('\n').map((line) => JSON.parse(line) as FindAnswer);
    expect(lines.map(({ hits: [first] }) => first?.how)).toEqual([undefined, 'normalised', undefined, 'same', 'same', 'same']);
    expect({ exitCode, err }).toEqual({ exitCode: 2, err: 'input (line 3): found more than 2000 characters, want at most 2000 characters\n' });
  }, 20_000);

  it('counts what the shop found, from a file at the command line', async () => {
    const shop: Replacements = [{ partId: 'kd-200c24', number: 'QX 9', held: 3, cameBack: 1 }];
    const { out } = await runCli(['find', 'qx9', '--json', '--catalog', demoFolder, '--shop', save('shop.json', shop)]);
    expect(JSON.parse(out)).toEqual(find('qx9', catalogue, shop));
    expect((JSON.parse(out) as FindAnswer).hits[0]).toMatchObject({ partId: 'kd-200c24', how: 'replaces', shop: { held: 3, cameBack: 1, forNumber: true } });
    expect(readReplacements([{ partId: 'a', held: -1, cameBack: 0 }])).toMatchObject({ ok: false, faults: [{ path: '[0].held' }] });
  }, 20_000);

  it('prints for a person how it was found', async () => {
    const parts: Part[] = [
      { ...goodPart, id: 'new-a', numbers: [{ issuer: 'Works', number: 'SR-200' }], replaces: [{ issuer: 'Gone', number: 'SR-108', source: 'list 3' }] }, { ...goodPart, id: 'new-b', numbers: [{ issuer: 'Works', number: 'SR-900' }] },
      { ...goodPart, id: 'old', numbers: [{ issuer: 'Works', number: 'SR-100' }], supersededBy: ['new-a', 'new-b'] },
    ];
    const path = save('parts.json', parts);
    const { out } = await runCli(['find', 'SR-1O0', '--catalog', path]);
    expect(out).toContain('old, replaced by the kit new-a + new-b  (Works SR-100; perhaps misread: O for 0)\n');
    expect(out).toContain('new-a  (Gone SR-108; similar: O for 0, 0 for 8, claimed by list 3)\n');
  }, 20_000);
});
