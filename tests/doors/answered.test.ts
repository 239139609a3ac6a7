import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fit, identify, prove, rewire, planOrders, trace } from '../../api/engine/index.ts';
import { openSolver } from '../../api/services/index.ts';
import {
  fitAnswer, identifyAnswer, pricesOfShop, proveAnswer, readInput, readShopFile, rewireAnswer, sourceAnswer, traceAnswer, type BenchRecord, type Catalogue, type FaultSharesAnswer, type Prices,
} from '../../catalog-schema/index.ts';
import { readCataloguePath } from '../../catalog-schema/folder/index.ts';
import { ENGINE_FUNCTIONS } from '../../ui/worker/engine-functions.ts';
import { caseReturnPart, goodCase, goodHistory, goodNeed, goodPart, goodPrices, goodRecord } from './good-input.ts';
import { demoFolder, openHttpDoor } from './open-doors.ts';
import { runCli, runCliHere } from './run-cli.ts';

// One suite of questions through every door: function, browser worker, HTTP and command line give the same answer to the last digit.

const partial: BenchRecord = { system: { nominalV: 12 } };
const untraced: BenchRecord = { ...goodRecord, wires: goodRecord.wires!.map((wire) => (wire.tag === 'W4' ? { ...wire, leadsTo: 'unknown' } : wire)) };

const demoJobs = readdirSync(join(demoFolder, 'jobs')).toSorted()
  .map((name) => ({ name, record: (JSON.parse(readFileSync(join(demoFolder, 'jobs', name), 'utf8')) as { record: BenchRecord }).record }));
const demoShop = readShopFile(JSON.parse(readFileSync(join(demoFolder, 'shop.json'), 'utf8')));
if (!demoShop.ok) throw new Error(JSON.stringify(demoShop.faults));
const demoPrices: Prices = pricesOfShop(demoShop.value, '2026-11-25');
const RECORDS = [
  { name: 'a full record', record: goodRecord }, { name: 'the least record', record: partial }, { name: 'an untraced wire', record: untraced }, ...demoJobs,
];

const folder = mkdtempSync(join(tmpdir(), 'answered-'));
const save = (value: unknown): string => {
  const path = join(folder, `${Math.abs(hash(JSON.stringify(value)))}.json`);
  writeFileSync(path, JSON.stringify(value));
  return path;
};
const hash = (words: string): number => [...words].reduce((sum, letter) => (Math.imul(sum, 31) + letter.codePointAt(0)!) | 0, 7);
/** What is left of an answer on its way through JSON. */
const plain = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

describe('every door', () => {
  let http: Awaited<ReturnType<typeof openHttpDoor>>;
  let catalogue: Catalogue;
  beforeAll(async () => {
    http = await openHttpDoor();
    const read = readCataloguePath(demoFolder);
    if (!read.ok) throw new Error(`the demo does not read: ${JSON.stringify(read.faults.slice(0, 3))}`);
    catalogue = read.value;
  });
  afterAll(async () => {
    await http.close();
    rmSync(folder, { recursive: true, force: true });
  });

  /** The first record of each question is asked by a process of its own, the others by the same command in this one. */
  async function command(args: readonly string[], record?: BenchRecord): Promise<unknown> {
    const { exitCode, out, err } = await (record === undefined || record === goodRecord ? runCli : runCliHere)([...args, '--json']);
    expect({ exitCode, err }).toEqual({ exitCode: 0, err: '' });
    return JSON.parse(out);
  }

  it.each(RECORDS)('fits $name alike', async ({ record }) => {
    // Those that will not do are written out at length for each part: for a few records.
    for (const all of RECORDS.slice(0, 5).some((each) => each.record === record) ? [false, true] : [false]) {
      const answer = plain(fit(record, catalogue, { all, prices: goodPrices }));
      expect(readInput(fitAnswer, answer)).toMatchObject({ ok: true });
      ENGINE_FUNCTIONS.load(catalogue, goodPrices);
      expect(plain(ENGINE_FUNCTIONS.fit(record, { all }))).toEqual(answer);
      expect((await http.post('/api/fit', JSON.stringify({ record, all, prices: goodPrices }))).body).toEqual(answer);
      expect(await command(['fit', save(record), '--catalog', demoFolder, '--prices', save(goodPrices), ...(all ? ['--all'] : [])], record)).toEqual(answer);
    }
  }, 30_000);

  it.each(RECORDS.slice(0, 6))('fits $name alike with what was learned, and the first few alone', async ({ record }) => {
    const wishes = { all: true, most: 7, history: goodHistory, machineKind: 'quay sweeper' };
    const answer = plain(fit(record, catalogue, { ...wishes, prices: demoPrices }));
    expect(readInput(fitAnswer, answer)).toMatchObject({ ok: true });
    expect((answer as { fits: unknown[] }).fits).toHaveLength(7);
    ENGINE_FUNCTIONS.load(catalogue, demoPrices);
    expect(plain(ENGINE_FUNCTIONS.fit(record, wishes))).toEqual(answer);
    expect((await http.post('/api/fit', JSON.stringify({ record, ...wishes, prices: demoPrices }))).body).toEqual(answer);
    const flags = ['--prices', save(demoPrices), '--history', save(goodHistory), '--machine', 'Quay Sweeper, petrol', '--most', '7', '--all'];
    expect(await command(['fit', save(record), '--catalog', demoFolder, ...flags], record)).toEqual(answer);
  }, 30_000);

  it.each(RECORDS.slice(0, 5))('fits $name alike from a snapshot: of the server in a worker, of the command line in a command', async ({ record }) => {
    const answer = plain(fit(record, catalogue, { most: 5, prices: demoPrices }));
    const served = await http.app.request('/api/catalogue/snapshot');
    expect(served.headers.get('content-type')).toBe('application/vnd.lugwright.snapshot');
    expect((await http.app.request('/api/catalogue/snapshot', { headers: { 'if-none-match': served.headers.get('etag')! } })).status).toBe(304);
    expect(ENGINE_FUNCTIONS.load(await served.arrayBuffer(), undefined)).toBe(catalogue.length);
    ENGINE_FUNCTIONS.price(demoPrices);
    expect(plain(ENGINE_FUNCTIONS.fit(record, { most: 5 }))).toEqual(answer);
    expect(ENGINE_FUNCTIONS.parts([catalogue[3]!.id, 'nobody'])).toEqual([catalogue[3]]);
    const file = join(folder, 'demo.snapshot');
    expect(await (record === goodRecord ? runCli : runCliHere)(['snapshot', '--catalog', demoFolder, '--out', file])).toMatchObject({ exitCode: 0, err: '' });
    expect(await command(['fit', save(record), '--catalog', file, '--prices', save(demoPrices), '--most', '5'], record)).toEqual(answer);
  }, 30_000);

  it('refuses a snapshot that was cut short at each door', async () => {
    const file = join(folder, 'cut.snapshot');
    expect((await runCli(['snapshot', '--catalog', demoFolder, '--out', file])).exitCode).toBe(0);
    const bytes = readFileSync(file);
    writeFileSync(file, bytes.subarray(0, bytes.length - 100));
    const { exitCode, out, err } = await runCli(['fit', save(partial), '--catalog', file]);
    expect({ exitCode, out }).toEqual({ exitCode: 2, out: '' });
    expect(err).toMatch(/cut short/);
    expect(() => ENGINE_FUNCTIONS.load(Uint8Array.from(bytes.subarray(0, 1000)).buffer, undefined)).toThrow('cut short');
  });

  it.each(RECORDS)('rewires $name alike', async ({ record }) => {
    for (const part of [goodPart, caseReturnPart]) {
      const answer = plain(rewire(record, part));
      expect(readInput(rewireAnswer, answer)).toMatchObject({ ok: true });
      expect((await http.post('/api/rewire', JSON.stringify({ record, part }))).body).toEqual(answer);
      expect(await command(['rewire', save(record), '--part', save(part)], record)).toEqual(answer);
    }
  }, 30_000);

  it.each(RECORDS)('identifies $name alike', async ({ record }) => {
    const answer = plain(identify(record));
    expect(readInput(identifyAnswer, answer)).toMatchObject({ ok: true });
    expect((await http.post('/api/identify', JSON.stringify(record))).body).toEqual(answer);
    expect(await command(['identify', save(record)], record)).toEqual(answer);
  }, 30_000);

  const measured: BenchRecord = { ...untraced, wires: untraced.wires!.map((wire) => (wire.tag === 'W4' ? { ...wire, traced: { by: 'meter', readings: { ohmChassisMade: 0.4, voltsOff: 0 } } } : wire)) };
  it.each([...RECORDS.slice(0, 5), { name: 'a wire with readings', record: measured }])('traces $name alike', async ({ record }) => {
    for (const tags of [undefined, (record.wires ?? []).slice(0, 2).map(({ tag }) => tag)]) {
      if (tags?.length === 0) continue;
      const answer = plain(trace(record, tags));
      expect(readInput(traceAnswer, answer)).toMatchObject({ ok: true });
      expect(plain(ENGINE_FUNCTIONS.trace(record, tags))).toEqual(answer);
      expect((await http.post('/api/trace', JSON.stringify({ record, tags }))).body).toEqual(answer);
      expect(await command(['trace', save(record), ...(tags === undefined ? [] : ['--wire', ...tags])], record)).toEqual(answer);
    }
  }, 30_000);

  it('refuses to trace a wire that is not in the record', async () => {
    const { status, body } = await http.post('/api/trace', JSON.stringify({ record: goodRecord, tags: ['W1', 'W9'] }));
    expect([status, (body as { faults: { line: string }[] }).faults.map(({ line }) => line)]).toEqual([422, ['tags[1]: found "W9", want the tag of a wire of this record']]);
    expect(await runCli(['trace', save(goodRecord), '--wire', 'W9'])).toMatchObject({ exitCode: 2, out: '', err: '--wire: found "W9", want the tag of a wire of this record\n' });
  });

  it('prints for a person what to measure at an untraced wire, and how without harm', async () => {
    const { exitCode, out } = await runCli(['trace', save(measured)]);
    expect(exitCode).toBe(0);
    expect(out).toMatch(/Wire W4: leads to one of starter, chassis, interlocked-return.*\n {2}Measure next: ohms .*interlocks opened.*highest reading\n.*\n {4}Take care\n {6}- Key out, both clamps off/);
  });

  it('proves alike, and prints the verdict and the next test for a person', async () => {
    const answer = plain(prove(goodCase));
    expect(readInput(proveAnswer, answer)).toMatchObject({ ok: true, value: { proven: 'relay-contacts', orderable: 'start-relay' } });
    expect((await http.post('/api/prove', JSON.stringify(goodCase))).body).toEqual(answer);
    expect(await command(['prove', save(goodCase)])).toEqual(answer);
    expect(plain(ENGINE_FUNCTIONS.prove(goodCase))).toEqual(answer);
    expect((await runCli(['prove', save(goodCase)])).out).toMatch(/^Proven: relay-contacts\. The evidence pays for: start-relay\.\n/);
    expect((await runCli(['prove', save({ ...goodCase, seen: goodCase.seen.slice(0, 2) })])).out).toMatch(/^Nothing is proven yet\..*\n[^]*Test next\n {2}- Volts /);
  }, 30_000);

  it('proves alike by the shop\'s own shares of faults, and forgets them when they are taken back', async () => {
    const seen = goodCase.seen.slice(0, 1);
    const own = { 'starter-drive': 3, 'relay-contacts': 0.2 };
    const set = (await http.post('/api/prove/shares', JSON.stringify({ own, at: '2026-11-25T21:00:00Z' }))).body as FaultSharesAnswer;
    expect(set.own).toEqual(own);
    expect(set).toEqual((await http.get('/api/prove/shares')).body);
    const answer = plain(prove({ ...goodCase, seen }, { shares: set.shares }));
    expect(answer).not.toEqual(plain(prove({ ...goodCase, seen })));
    expect((await http.post('/api/prove', JSON.stringify({ ...goodCase, seen }))).body).toEqual(answer);
    expect(plain(ENGINE_FUNCTIONS.prove({ ...goodCase, seen }, set.shares))).toEqual(answer);
    expect(JSON.parse((await runCliHere(['prove', save({ ...goodCase, seen }), '--shares', save(set), '--json'])).out)).toEqual(answer);
    expect(await runCliHere(['prove', save(goodCase), '--shares', save({ 'flat-tyre': 1 })])).toMatchObject({ exitCode: 2, out: '' });
    await http.post('/api/prove/shares', JSON.stringify({ own: {}, at: '2026-11-25T21:01:00Z' }));
    expect((await http.post('/api/prove', JSON.stringify({ ...goodCase, seen }))).body).toEqual(plain(prove({ ...goodCase, seen })));
  }, 30_000);

  it('plans orders alike, and prints them for a person', async () => {
    const answer = plain(planOrders(goodNeed, await openSolver(), { seconds: 15 }));
    expect(readInput(sourceAnswer, answer)).toMatchObject({ ok: true, value: { status: 'optimal', total: 41.62, bound: 41.62 } });
    expect((await http.post('/api/source', JSON.stringify(goodNeed))).body).toEqual(answer);
    expect(await command(['source', save(goodNeed)])).toEqual(answer);
    expect((await runCli(['source', save(goodNeed)])).out).toMatch(/^No plan costs less\. Total 41\.62 EUR\.\n[^]*Order from north: goods 29\.12, freight 6 EUR\n/);
  }, 30_000);

  it('gives an answer that does not depend on the order of the catalogue', () => {
    const ids = (parts: Catalogue) => fit(goodRecord, parts, { all: true }).fits.map((entry) => entry.partId);
    expect(ids([...catalogue].toReversed())).toEqual(ids(catalogue));
  });

  it('prints the five parts of the cost, the probability and what a reading would save for a person', async () => {
    const { exitCode, out } = await runCli(['fit', save(demoJobs.find(({ name }) => name.startsWith('concrete-float'))!.record), '--catalog', demoFolder, '--prices', save(demoPrices), '--history', save(goodHistory), '--most', '8']);
    expect(exitCode).toBe(0);
    expect(out).toMatch(/expected cost [\d.]+ EUR: part [\d.]+ from .*, kit [\d.]+, labour [\d.]+, risk of a misfit [\d.]+, wait [\d.]+/);
    expect(out).toMatch(/works here with a probability of [\d.]+ %/);
    expect(out).toMatch(/where wire 4 leads.*expected saving [\d.]+ EUR/);
    expect(out).toMatch(/fitted before: 10 held, 3 came back \([\d.]+ % to [\d.]+ % hold, 95 % interval\)/);
  });

  it('takes the record from standard input and prints for a person without --json', async () => {
    const { exitCode, out } = await runCli(['rewire', '-', '--part', save(goodPart)], JSON.stringify(goodRecord));
    expect(exitCode).toBe(0);
    expect(out).toContain('W4: R -> R');
  });
});
