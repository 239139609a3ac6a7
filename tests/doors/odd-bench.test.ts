import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { identify } from '../../api/engine/index.ts';
import { benchRecordSchema, identifyAnswer, printFault, readInput, readJsonText, type BenchRecord, type IdentifyAnswer } from '../../catalog-schema/index.ts';
import { openHttpDoor } from './open-doors.ts';
import { runCli, runCliHere, type CliResult } from './run-cli.ts';

// Bench records that contradict themselves, cannot be, or say next to nothing, at each door of identify.

const terminals: BenchRecord['terminals'] = [{ id: 'B', form: 'stud' }, { id: 'M', form: 'stud' }, { id: 'S', form: 'tab' }, { id: 'I', form: 'tab' }];
const system = { nominalV: 12 };

interface OddCase { name: string; record: BenchRecord; holds: (answer: IdentifyAnswer) => void }
const pathsOf = ({ conflicts }: IdentifyAnswer): string[] => conflicts.flatMap(({ paths }) => paths);
const ODD: readonly OddCase[] = [
  {
    name: 'one pair read twice, unlike', record: { system, terminals, ohms: [{ between: ['S', 'I'], ohm: 4 }, { between: ['I', 'S'], ohm: 'open' }] },
    holds: (answer) => expect(pathsOf(answer)).toEqual(['ohms[0]', 'ohms[1]']),
  },
  {
    name: 'a reading that no form has beside the others',
    record: { system, terminals, ohms: [{ between: ['S', 'I'], ohm: 4.1 }, { between: ['S', 'case'], ohm: 'open' }, { between: ['I', 'case'], ohm: 'open' }, { between: ['B', 'M'], ohm: 'open' }, { between: ['B', 'case'], ohm: 40 }] },
    holds: (answer) => expect(pathsOf(answer)).toContain('ohms[4]'),
  },
  {
    name: 'a thread that the caliper denies', record: { system, terminals: [{ id: 'B', form: 'stud', thread: 'M8', majorDiameterMm: 5.9 }] },
    holds: (answer) => expect(pathsOf(answer)).toEqual(['terminals[0].thread', 'terminals[0].majorDiameterMm']),
  },
  {
    name: 'a stud and a tab of no standard', record: { system, terminals: [{ id: 'B', form: 'stud', majorDiameterMm: 90 }, { id: 'S', form: 'tab', tabWidthMm: 40 }] },
    holds: (answer) => {
      expect(pathsOf(answer)).toEqual(['terminals[0].majorDiameterMm', 'terminals[1].tabWidthMm']);
      expect([answer.threads[0]!.candidates, answer.tabs[0]!.candidates]).toEqual([[], []]);
    },
  },
  {
    name: 'a marked voltage that the coil denies', record: { system, terminals, marked: { coilV: 240 }, ohms: [{ between: ['S', 'I'], ohm: 4 }, { between: ['B', 'M'], ohm: 'open' }] },
    holds: (answer) => expect(pathsOf(answer)).toEqual(['marked.coilV', 'ohms[0]']),
  },
  {
    name: 'the least record', record: { system },
    holds: ({ circuits, coils, measureNext }) => {
      expect([circuits, coils]).toEqual([[], []]);
      expect(measureNext[0]?.what).toMatch(/^list the terminals/);
    },
  },
  {
    name: 'empty lists', record: { system, terminals: [], ohms: [], wires: [] },
    holds: ({ measureNext }) => expect(measureNext[0]?.what).toMatch(/^list the terminals/),
  },
  {
    name: 'readings without a list of terminals', record: { system, ohms: [{ between: ['x', 'y'], ohm: 4 }] },
    holds: ({ circuits, coils }) => {
      expect(circuits.length).toBeGreaterThan(1);
      expect(coils).toHaveLength(1);
    },
  },
  {
    name: 'everything open', record: { system, terminals, ohms: [['S', 'I'], ['S', 'case'], ['I', 'case'], ['B', 'M']].map(([a, b]) => ({ between: [a!, b!], ohm: 'open' })) },
    holds: ({ coils, cautions }) => {
      expect(coils).toEqual([]);
      expect(cautions.join()).toContain('burnt through');
    },
  },
  { name: 'more terminals than any form', record: { system, terminals: [...'ABCDEFGHJKLMNPQR'].map((id) => ({ id, form: 'tab' })) }, holds: ({ circuits }) => expect(circuits).toEqual([]) },
];

const REFUSED: readonly [string, unknown, string][] = [
  ['nothing at all', {}, 'system: '], ['ohms below nothing', { system, ohms: [{ between: ['a', 'b'], ohm: -1 }] }, 'ohms[0].ohm'],
  ['ohms as text', { system, ohms: [{ between: ['a', 'b'], ohm: '4' }] }, 'ohms[0].ohm'], ['a pair that is one point', { system, ohms: [{ between: ['a', 'a'], ohm: 4 }] }, 'ohms[0].between[1]'],
  ['a point that is no terminal', { system, terminals, ohms: [{ between: ['S', 'Z'], ohm: 4 }] }, 'ohms[0].between[1]'],
  ['a plus on a third point', { system, terminals, ohms: [{ between: ['S', 'I'], ohm: 4, by: 'supply', plusOn: 'B' }] }, 'ohms[0].plusOn'],
  ['a pitch of nothing', { system, terminals: [{ id: 'B', form: 'stud', pitchMm: 0 }] }, 'terminals[0].pitchMm'],
  ['an error of nothing', { system, terminals: [{ id: 'B', form: 'stud', pitchMm: { value: 1, plusMinus: 0 } }] }, 'terminals[0].pitchMm'],
  ['a thread that is none', { system, terminals: [{ id: 'B', form: 'stud', thread: 'M' }] }, 'terminals[0].thread'],
  ['a coil of no volts', { system, marked: { coilV: 0 } }, 'marked.coilV'],
];

describe('an odd bench record', () => {
  const folder = mkdtempSync(join(tmpdir(), 'odd-bench-'));
  let http: Awaited<ReturnType<typeof openHttpDoor>>;
  beforeAll(async () => { http = await openHttpDoor(); });
  afterAll(async () => {
    await http.close();
    rmSync(folder, { recursive: true, force: true });
  });

  /** The first of each kind by a process of its own, from standard input; the others by the same command in this one, from a file. */
  const tell = (words: string, isFirst: boolean, ...flags: string[]): Promise<CliResult> => {
    if (isFirst) return runCli(['identify', '-', ...flags], words);
    const path = join(folder, 'record.json');
    writeFileSync(path, words);
    return runCliHere(['identify', path, ...flags]);
  };

  it.each(ODD)('is answered with what quarrels or is missing, alike at every door: $name', async ({ record, holds }) => {
    const answer = identify(record);
    holds(answer);
    expect(identifyAnswer.safeParse(JSON.parse(JSON.stringify(answer))).error).toBeUndefined();
    expect((await http.post('/api/identify', JSON.stringify(record))).body).toEqual(answer);
    const { exitCode, out, err } = await tell(JSON.stringify(record), record === ODD[0]!.record, '--json');
    expect({ exitCode, err }).toEqual({ exitCode: 0, err: '' });
    expect(JSON.parse(out)).toEqual(answer);
    // For reading, too: no number that is none, and every path that quarrels.
    const told = await tell(JSON.stringify(record), record === ODD[0]!.record);
    expect(told.exitCode).toBe(0);
    expect(told.out).not.toMatch(/NaN|undefined|Infinity/);
    for (const path of answer.conflicts.flatMap(({ paths }) => paths)) expect(told.out).toContain(path);
  }, 30_000);

  it.each(REFUSED)('is refused by the path of what cannot be: %s', async (_, input, path) => {
    const words = JSON.stringify(input);
    const json = readJsonText(words, 5_000_000);
    const read = json.ok ? readInput(benchRecordSchema, json.value) : json;
    const lines = read.ok ? [] : read.faults.map(printFault);
    expect(lines.filter((line) => line.startsWith(path)), lines.join('\n')).toHaveLength(1);
    expect((await http.post('/api/identify', words)).status).toBe(422);
    const { exitCode, out, err } = await tell(words, input === REFUSED[0]![1], '--json');
    expect({ exitCode, out, err: err.trimEnd().split('\n') }).toEqual({ exitCode: 2, out: '', err: lines });
  }, 30_000);
});
