import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { asLeftAnswer, type AsLeftAnswer, type BenchRecord, type JobEdit, type JsonValue, type Part } from '../../catalog-schema/index.ts';
import { rewire } from '../engine/index.ts';
import { openServices, type Services } from '../services/index.ts';
import { runCommandLine } from './run-command-line.ts';

const folder = mkdtempSync(join(tmpdir(), 'lugwright-as-left-'));
const file = join(folder, 'shop.sqlite');
const id = '00000000-0000-4000-8000-000000000001';
const at = '2026-11-25T10:00:00Z';

// An invented relay whose four wires go back where they were, on a machine with one interlock in the return and one that stops the engine.
const part: Part = {
  id: 'p1', partClass: 'start-relay', title: 'Relay p1',
  terminals: [{ id: 'B', form: 'stud', thread: 'M6x1' }, { id: 'M', form: 'stud', thread: 'M6x1' }, { id: 't1', form: 'tab', tabWidthMm: 6.3 }, { id: 't2', form: 'tab', tabWidthMm: 6.3 }],
  circuit: [{ kind: 'coil', id: 'c', between: ['t1', 't2'], nominalV: 12, ohmAt20C: 4 }, { kind: 'contact', id: 'k', between: ['B', 'M'], form: 'NO', coils: ['c'], inrushA: 300 }],
};
const record: BenchRecord = {
  partClass: 'start-relay', system: { nominalV: 12, interlocks: 'in-return', interlockList: [{ name: 'Seat', acts: 'return' }, { name: 'Lid', acts: 'stops-engine' }] },
  terminals: [{ id: 'B', form: 'stud' }, { id: 'M', form: 'stud' }, { id: 't1', form: 'tab' }, { id: 't2', form: 'tab' }],
  wires: [
    { tag: 'W1', wasOn: 'B', leadsTo: 'battery', colour: 'RD', areaMm2: 16, end: { form: 'ring', holeMm: 6.4 } }, { tag: 'W2', wasOn: 'M', leadsTo: 'starter', colour: 'BK', areaMm2: 16, end: { form: 'ring', holeMm: 6.4 } },
    { tag: 'W3', wasOn: 't1', leadsTo: 'start-switch', colour: 'YE/GN' }, { tag: 'W4', wasOn: 't2', leadsTo: 'interlocked-return', colour: 'BN' },
  ],
};
let services: Services;
let edits = 100;
const send = async (...changes: readonly [string[], JsonValue][]): Promise<void> => {
  const job = await services.jobs.read(id);
  if (!job.ok) throw new Error('no job');
  const made = changes.map(([field, value]): JobEdit => ({ id: `00000000-0000-4000-8000-${String(++edits).padStart(12, '0')}`, field, value, base: job.value.revision, at }));
  expect((await services.jobs.append(id, made)).ok).toBe(true);
};

beforeAll(async () => {
  services = await openServices({ file });
  await services.catalogue.importParts([part]);
  await services.jobs.create({ id, title: 'Hose mixer', machine: 'Mixer', record, at });
  await send([['chosen'], { partId: 'p1', plan: rewire(record, part).plans[0]! as unknown as JsonValue }]);
});
afterAll(async () => {
  await services.close();
  rmSync(folder, { recursive: true });
});
afterEach(() => { vi.restoreAllMocks(); });
// Each command opens the shop anew, with an engine of its own.
vi.setConfig({ testTimeout: 90_000 });

interface Said { readonly code: number; readonly out: string; readonly err: string }
async function run(...args: string[]): Promise<Said> {
  const listen = (stream: NodeJS.WriteStream): Buffer[] => {
    const heard: Buffer[] = [];
    vi.spyOn(stream, 'write').mockImplementation(((chunk: string | Buffer, done?: () => void) => {
      heard.push(Buffer.from(chunk));
      if (typeof done === 'function') done();
      return true;
    }) as typeof stream.write);
    return heard;
  };
  const [out, err] = [listen(process.stdout), listen(process.stderr)];
  const code = await runCommandLine(args);
  vi.restoreAllMocks();
  return { code, out: Buffer.concat(out).toString(), err: Buffer.concat(err).toString() };
}
async function readList(): Promise<AsLeftAnswer> {
  const read = await services.asLeft.read(id, 'mm');
  if (!read.ok) throw new Error('no job');
  return read.value;
}

describe('the as-left command', () => {
  it('prints the checklist for a person, with old and new, limits and what is open', async () => {
    const { code, out, err } = await run('as-left', id, '--db', file);
    expect([code, err]).toEqual([0, '']);
    expect(out).toContain('W3 (YE/GN), start switch: t1 -> t1, same place');
    expect(out).toMatch(/\[ \] \d+\. Open “Seat”, hold START: it must not crank; made again, it must/);
    expect(out).toContain('At most 50 mA. Yardstick: common practice');
    expect(out).toContain('Signed off by ____');
  });

  it('prints the same as JSON that reads by its schema', async () => {
    const printed = JSON.parse((await run('as-left', id, '--db', file, '--json')).out) as AsLeftAnswer;
    expect(asLeftAnswer.safeParse(printed).error).toBeUndefined();
    expect(printed).toEqual(await readList());
  });

  it('refuses a job or a database that is not there, and a file it cannot write', async () => {
    expect(await run('as-left', 'none', '--db', file)).toMatchObject({ code: 2, out: '', err: expect.stringContaining('job: found "none"') as string });
    expect(await run('as-left', id, '--db', join(folder, 'none.sqlite'))).toMatchObject({ code: 2, err: expect.stringContaining('--db: found no file') as string });
    writeFileSync(join(folder, 'a-file'), '');
    expect(await run('as-left', id, '--db', file, '--pdf', join(folder, 'a-file', 'x.pdf'))).toMatchObject({ code: 2, err: expect.stringContaining('--pdf') as string });
  });

  it('takes a job by its title, and a job file without a shop', async () => {
    expect((await run('as-left', 'Hose mixer', '--db', file)).out).toContain('As left: Hose mixer');
    const out = join(folder, 'mixer.job.json');
    expect((await run('job', 'export', id, '--out', out, '--db', file)).code).toBe(0);
    expect(JSON.parse((await run('as-left', out, '--json')).out)).toEqual(await readList());
    writeFileSync(join(folder, 'no.json'), '{"format": 1}');
    expect(await run('as-left', join(folder, 'no.json'))).toMatchObject({ code: 2, err: expect.stringContaining('format') as string });
  });

  it('writes the sheet as a PDF', async () => {
    const pdf = join(folder, 'sheet.pdf');
    expect(await run('as-left', id, '--db', file, '--pdf', pdf, '--paper', 'letter')).toEqual({ code: 0, out: '', err: '' });
    expect(readFileSync(pdf, 'latin1')).toMatch(/^%PDF-1\.7[^]*%%EOF\s*$/);
  });
});

describe('the sign-off command', () => {
  const tickAllBut = async (...ids: string[]): Promise<void> => {
    const { steps } = await readList();
    await send(...steps.filter((step) => !ids.includes(step.id)).map((step): [string[], JsonValue] => [['asLeft', step.id], {
      at, by: 'J', of: step.of, ...(step.limit !== null ? { reading: step.limit.low ?? step.limit.high } : step.asksOutcome ? { outcome: 'good' } : {}),
    } as JsonValue]));
  };
  const isSigned = async (): Promise<boolean> => (await readList()).signOff.state === 'stands';

  it('refuses with a line for each open step, and signs nothing', async () => {
    const { code, out, err } = await run('sign-off', id, '--by', 'J', '--db', file);
    expect([code, out]).toEqual([2, '']);
    const required = (await readList()).steps.filter((step) => step.required);
    expect(err.trimEnd().split('\n')).toHaveLength(required.length);
    for (const step of required) expect(err).toContain(`asLeft.${step.id}: `);
    expect(await isSigned()).toBe(false);
  });

  it('refuses while one interlock alone is untested, did not do it, or nobody’s name is given', async () => {
    await tickAllBut('interlock-Seat');
    expect((await run('sign-off', id, '--by', 'J', '--db', file)).err).toBe('asLeft.interlock-Seat: found nothing, want Open “Seat”, hold START: it must not crank; made again, it must\n');
    const seat = (await readList()).steps.find((step) => step.id === 'interlock-Seat')!;
    await send([['asLeft', seat.id], { at, by: 'J', of: seat.of, outcome: 'bad' }]);
    expect(await run('sign-off', id, '--by', 'J', '--db', file)).toMatchObject({ code: 2, err: expect.stringContaining('asLeft.interlock-Seat: found went wrong') as string });
    await send([['asLeft', seat.id], { at, by: 'J', of: seat.of, outcome: 'good' }]);
    expect(await run('sign-off', id, '--by', ' ', '--db', file)).toMatchObject({ code: 2, err: expect.stringContaining('signedOff.by') as string });
    expect(await run('sign-off', id, '--db', file)).toMatchObject({ code: 2 });
    expect(await isSigned()).toBe(false);
  });

  it('signs what is closed, and says when that has lapsed', async () => {
    expect(await run('sign-off', id, '--by', 'J. Doe', '--db', file)).toEqual({ code: 0, out: 'Signed off by J. Doe: Hose mixer\n', err: '' });
    expect(await isSigned()).toBe(true);
    expect((await run('as-left', id, '--db', file)).out).toMatch(/Signed off by J\. Doe, 20\d\d-/);
    await send([['record', 'wires', 'W3', 'colour'], 'BU']);
    expect((await run('as-left', id, '--db', file)).out).toMatch(/Was signed off by J\. Doe.*must be signed off anew/);
  });
});
