import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  benchRecordSchema, catalogueSchema, fitHistory, nameParts, needSchema, partSchema, pricesSchema, proveCaseSchema, printFault, readInput, readJsonText, type Read,
} from '../../catalog-schema/index.ts';
import { goodPart, goodPrices, goodRecord } from './good-input.ts';
import { openHttpDoor } from './open-doors.ts';
import { REFUSED, type RefusedCase } from './refused-input.ts';
import { runCli, runCliHere, type CliResult } from './run-cli.ts';

// Each line of the contract's "Refused input", at each door: the same line names the same place, and nothing is kept.

const textOf = (one: RefusedCase): string => one.text ?? JSON.stringify(one.input);

function readByFunction(one: RefusedCase): string[] {
  const json = readJsonText(textOf(one), 5_000_000);
  if (!json.ok) return json.faults.map(printFault);
  const read: Read<unknown> = one.as === 'record' ? readInput(benchRecordSchema, json.value)
    : one.as === 'part' ? readInput(partSchema, json.value)
      : one.as === 'prices' ? readInput(pricesSchema, json.value)
        : one.as === 'history' ? readInput(fitHistory, json.value)
          : one.as === 'need' ? readInput(needSchema, json.value)
            : one.as === 'case' ? readInput(proveCaseSchema, json.value)
              : readInput(catalogueSchema, json.value);
  if (read.ok) return [];
  return (one.as === 'catalogue' ? nameParts(read.faults, json.value) : read.faults).map(printFault);
}

const folder = mkdtempSync(join(tmpdir(), 'refused-'));
const file = (name: string, words: string): string => {
  const path = join(folder, name);
  writeFileSync(path, words);
  return path;
};

/** By a process of its own: the first of each kind of input, and every text that is no JSON. */
const isByProcess = (one: RefusedCase): boolean => one.text !== undefined || REFUSED.find(({ as }) => as === one.as) === one;

function runByCommand(one: RefusedCase, index: number): Promise<CliResult> {
  const run = isByProcess(one) ? runCli : runCliHere;
  const bad = file(`bad-${index}.json`, textOf(one));
  const record = file('record.json', JSON.stringify(goodRecord));
  const part = file('part.json', JSON.stringify(goodPart));
  switch (one.as) {
    case 'record': return isByProcess(one) && index % 2 === 1 ? runCli(['rewire', '-', '--part', part, '--json'], textOf(one)) : run(index % 2 === 0 ? ['identify', bad, '--json'] : ['rewire', bad, '--part', part, '--json']);
    case 'part': return run(['rewire', record, '--part', bad, '--json']);
    case 'prices': return run(['fit', record, '--prices', bad, '--json']);
    case 'history': return run(['fit', record, '--history', bad, '--json']);
    case 'catalogue': return run(['fit', record, '--catalog', bad, '--json']);
    case 'need': return run(['source', bad, '--json']);
    case 'case': return run(['prove', bad, '--json']);
    default: throw new Error(`no such input: ${JSON.stringify(one.as satisfies never)}`);
  }
}

/** Path and body of the request that carries this input, and where it stands in that body. */
function requestOf(one: RefusedCase): { path: string; body: string; under: string }[] {
  const bad = textOf(one);
  switch (one.as) {
    case 'record': return [
      { path: '/api/identify', body: bad, under: '' },
      ...(one.text === undefined ? [
        { path: '/api/fit', body: `{"record":${bad}}`, under: 'record.' },
        { path: '/api/jobs', body: `{"id":"6f1e6f0e-9d0c-4d0e-8f86-3f2f5b8f1a11","title":"refused","record":${bad},"at":"2026-11-25T08:00:00Z"}`, under: 'record.' },
      ] : []),
    ];
    case 'part': return [{ path: '/api/rewire', body: `{"record":${JSON.stringify(goodRecord)},"part":${bad}}`, under: 'part.' }];
    case 'prices': return [{ path: '/api/fit', body: `{"record":${JSON.stringify(goodRecord)},"prices":${bad}}`, under: 'prices.' }];
    case 'history': return [{ path: '/api/fit', body: `{"record":${JSON.stringify(goodRecord)},"history":${bad}}`, under: 'history' }];
    case 'need': return [{ path: '/api/source', body: bad, under: '' }];
    case 'case': return [{ path: '/api/prove', body: bad, under: '' }];
    // A catalogue comes in by file only.
    case 'catalogue': return [];
    default: throw new Error(`no such input: ${JSON.stringify(one.as satisfies never)}`);
  }
}

describe('refused input', () => {
  let http: Awaited<ReturnType<typeof openHttpDoor>>;
  const commands = new Map<RefusedCase, CliResult>();
  beforeAll(async () => {
    http = await openHttpDoor();
    for (const [index, one] of REFUSED.entries()) commands.set(one, await runByCommand(one, index));
  }, 120_000);
  afterAll(async () => {
    await http.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it.each(REFUSED)('$why: the schema names the place', (one) => {
    const lines = readByFunction(one);
    expect(lines.filter((line) => line.startsWith(one.line))).toHaveLength(1);
    expect(lines.every((line) => !line.includes('\n'))).toBe(true);
  });

  it.each(REFUSED)('$why: the command exits 2 with the same lines and prints nothing else', (one) => {
    const { exitCode, out, err } = commands.get(one)!;
    expect({ exitCode, out }).toEqual({ exitCode: 2, out: '' });
    if (one.text === undefined || one.text.length < 100_000) expect(err.trimEnd().split('\n')).toEqual(readByFunction(one));
    else expect(err).toMatch(/^input: found/);
  });

  it.each(REFUSED.filter((one) => one.as !== 'catalogue'))('$why: HTTP answers 422 with the path, and stores nothing', async (one) => {
    for (const request of requestOf(one)) {
      const answer = await http.post(request.path, request.body);
      expect(answer.status, `${request.path}: ${JSON.stringify(answer.body)}`).toBe(422);
      expect(answer.type).toContain('application/problem+json');
      const { faults } = answer.body as { faults: { line: string }[] };
      const want = one.line.startsWith('input:') ? 'input: found' : `${request.under}${one.line}`;
      expect(faults.map((fault) => fault.line).filter((line) => line.startsWith(want)), JSON.stringify(faults)).toHaveLength(1);
    }
    const jobs = (await http.get('/api/jobs')).body as { document: { title: string } }[];
    expect(jobs.filter((job) => job.document.title === 'refused')).toEqual([]);
    expect(http.failures).toEqual([]);
  });

  it('stops at the good inputs the cases are made of', () => {
    expect(readInput(benchRecordSchema, goodRecord).ok).toBe(true);
    expect(readInput(partSchema, goodPart).ok).toBe(true);
    expect(readInput(pricesSchema, goodPrices).ok).toBe(true);
  });

  it('of a file that is not there, an unknown command and an unknown option exit 2', async () => {
    for (const args of [['fit', 'not-there.json'], ['polish'], ['fit', '--quick', 'x.json'], ['fit', file('record.json', JSON.stringify(goodRecord)), '--most', '0'], ['fit', file('record.json', JSON.stringify(goodRecord)), '--most', 'few'], ['rewire', 'x.json'], []]) {
      const { exitCode, out } = await (args.length < 2 ? runCli : runCliHere)(args);
      expect({ args, exitCode, out }).toEqual({ args, exitCode: 2, out: '' });
    }
  });
});
