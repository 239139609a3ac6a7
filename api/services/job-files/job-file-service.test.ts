import { createHash } from 'node:crypto';
import { readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import fc from 'fast-check';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { LIMITS, printFault, readInput, jobFile, type JobEdit, type JobFile, type JobImport, type JobState } from '../../../catalog-schema/index.ts';
import { SAMPLE_JPEG, SAMPLE_PNG } from '../../../catalog-schema/photograph/sample-pictures.ts';
import { openTestServices } from '../open-test-services.ts';
import type { Services } from '../open-services.ts';
import type { Outcome } from '../outcome.ts';
import { makeId, makeJob, makePart } from '../sample-data.ts';

const at = '2026-11-25T10:00:00Z';
const noCheck = { findSignOffBlocks: async () => [] };
const open: (() => Promise<void>)[] = [];
async function openShop(parts: string[] = ['p1']): Promise<Services> {
  const { services, remove } = await openTestServices({ checks: noCheck, clock: { now: () => new Date('2026-11-25T12:00:00Z') } });
  open.push(remove);
  await services.catalogue.importParts(parts.map((id) => makePart(id)));
  return services;
}
afterEach(async () => { for (const remove of open.splice(0)) await remove(); });

const value = <T>(outcome: Outcome<T>): T => {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusal));
  return outcome.value;
};
let count = 0;
const edit = (field: string[], given: JobEdit['value'], more: Partial<JobEdit> = {}): JobEdit => ({ id: makeId(++count, 7), field, value: given, base: 0, at, ...more });
const DEVICE = { a: makeId(1, 5), b: makeId(2, 5), c: makeId(3, 5) };

async function exportText(shop: Services, id = makeId(1)): Promise<string> {
  const pieces: string[] = [];
  for await (const piece of value(await shop.jobFiles.export(id)).pieces) pieces.push(piece);
  return pieces.join('');
}
async function* piecesOf(text: string | Uint8Array, size = 1 << 16): AsyncGenerator<Uint8Array> {
  const bytes = typeof text === 'string' ? Buffer.from(text) : text;
  for (let start = 0; start < bytes.length; start += size) yield bytes.subarray(start, start + size);
}
const importText = (shop: Services, text: string | Uint8Array, size?: number): Promise<Outcome<JobImport>> => shop.jobFiles.import(piecesOf(text, size));
const linesOf = (outcome: Outcome<JobImport>): string[] => (outcome.ok || outcome.refusal.kind !== 'faults' ? [] : outcome.refusal.faults.map(printFault));

/** A picture of this many bytes: a whole JPEG with more behind its end. */
function makePicture(bytes: number, n: number): Uint8Array {
  const picture = new Uint8Array(bytes);
  for (let k = 0; k < bytes; k++) picture[k] = (k * 31 + n * 7) & 0x7f;
  picture.set(SAMPLE_JPEG.subarray(0, 2));
  return picture;
}

/** A job with all that a job may have. */
async function fillJob(shop: Services): Promise<void> {
  value(await shop.jobs.create(makeJob(1)));
  value(await shop.jobs.append(makeId(1), [edit(['notes'], 'brush “A” \\ 12 V Ω', { base: 3, author: 'Ans', device: DEVICE.a })]));
  value(await shop.jobs.append(makeId(1), [edit(['chosen'], { partId: 'p1', plan: null }, { base: 4, author: 'Ans', device: DEVICE.a })]));
  value(await shop.jobs.append(makeId(1), [edit(['record', 'wires', 'W1', 'colour'], 'BK', { base: 5, device: DEVICE.a })]));
  value(await shop.jobs.append(makeId(1), [edit(['record', 'wires', 'W1', 'colour'], 'BN', { base: 5, device: DEVICE.b })]));
  value(await shop.photographs.keep(makeId(1), SAMPLE_JPEG));
  value(await shop.photographs.keep(makeId(1), SAMPLE_PNG));
  value(await shop.outcomes.report({ id: makeId(1, 8), jobId: makeId(1), partId: 'p1', result: 'came-back', reason: 'failed', words: 'after a week', by: 'Ans', at }));
}

describe('a job file', () => {
  it('brings a job whole into another shop, and from there again the same', async () => {
    const [one, other, third] = [await openShop(), await openShop(), await openShop([])];
    await fillJob(one);
    const text = await exportText(one);
    const filed = readInput(jobFile, JSON.parse(text));
    expect(filed.ok).toBe(true);
    for (const shop of [other, third]) {
      const taken = value(await importText(shop, text));
      expect(taken).toMatchObject({ created: true, editsAdded: 7, photographsAdded: 2 });
      const { id: _id, ...before } = value(await one.jobs.read(makeId(1)));
      expect(value(await shop.jobs.read(makeId(1)))).toMatchObject(before);
      expect(taken.job.conflicts).toHaveLength(1);
      expect(value(await shop.jobs.readEdits(makeId(1)))).toEqual(value(await one.jobs.readEdits(makeId(1))));
      for (const picture of [SAMPLE_JPEG, SAMPLE_PNG]) {
        const hash = createHash('sha256').update(picture).digest('hex');
        expect(Buffer.from(value(await shop.photographs.read(makeId(1), hash)).bytes).equals(picture)).toBe(true);
      }
      expect(JSON.parse(await exportText(shop))).toEqual(JSON.parse(text));
    }
    expect(await other.outcomes.list(makeId(1))).toHaveLength(1);
    // A shop whose catalogue has no such part keeps what is said of it with the job.
    expect(await third.outcomes.list(makeId(1))).toHaveLength(0);
    expect((await third.jobFiles.readCarried(makeId(1)))).toMatchObject({ part: { id: 'p1' }, outcomes: [{ partId: 'p1' }] });
  });

  it('changes nothing the second time, in its own shop neither', async () => {
    const [one, other] = [await openShop(), await openShop()];
    await fillJob(one);
    const text = await exportText(one);
    value(await importText(other, text));
    for (const shop of [one, other]) {
      const before = [value(await shop.jobs.read(makeId(1))), await exportText(shop)];
      expect(value(await importText(shop, text))).toMatchObject({ created: false, editsAdded: 0, photographsAdded: 0 });
      expect([value(await shop.jobs.read(makeId(1))), await exportText(shop)]).toEqual(before);
    }
  });

  it('hands on what was put aside and ordered as notes, and puts nothing aside', async () => {
    const [one, other] = [await openShop(), await openShop()];
    await fillJob(one);
    const file = JSON.parse(await exportText(one)) as JobFile;
    file.reservations.push({ id: makeId(3, 8), partId: 'p1', qty: 2, jobId: makeId(1), at, bin: 'A1' });
    file.orderLines.push({ id: makeId(4, 8), partId: 'p1', qty: 1, jobId: makeId(1), at, supplierId: 's', unitPrice: 12.5, currency: 'EUR', arrives: '2026-11-28' });
    value(await importText(other, JSON.stringify(file)));
    expect([await other.shelf.reservations(), await other.orders.lines()]).toEqual([[], []]);
    expect(await other.jobFiles.readCarried(makeId(1))).toMatchObject({ reservations: file.reservations, orderLines: file.orderLines });
    const again = JSON.parse(await exportText(other)) as JobFile;
    expect([again.reservations, again.orderLines]).toEqual([file.reservations, file.orderLines]);
  });

  it('keeps the chosen part as it was where the catalogue here has it otherwise', async () => {
    const [one, other] = [await openShop(), await openShop()];
    await fillJob(one);
    await other.catalogue.importParts([makePart('p1', { title: 'Another make of it' })]);
    value(await importText(other, await exportText(one)));
    expect((JSON.parse(await exportText(other)) as JobFile).part!.title).toBe('Relay p1');
  });

  it('is read in pieces of any size, its photographs as large as they may be', async () => {
    const [one, other] = [await openShop(), await openShop()];
    await fillJob(one);
    const text = await exportText(one);
    for (const size of [1, 2, 3, 7, 4096]) {
      const shop = await openShop();
      expect(value(await importText(shop, text, size)).editsAdded).toBe(7);
      expect(await exportText(shop)).toBe(text);
    }
    const file = JSON.parse(text) as JobFile;
    const large = Buffer.concat([SAMPLE_JPEG, Buffer.alloc(5_000_001, 1)]);
    file.photographs = [{ hash: createHash('sha256').update(large).digest('hex'), at, data: large.toString('base64').replaceAll('/', '\\/') }];
    const escaped = JSON.stringify(file).replaceAll('\\\\/', '\\/');
    const outcome = await importText(other, escaped, 65_537);
    expect(linesOf(outcome).map((line) => line.replace(/ \(line.*/, ''))).toEqual([]);
    // As it is written, piece for piece: a photograph may end where a piece does.
    async function* asWritten(): AsyncGenerator<Uint8Array> {
      for await (const piece of value(await other.jobFiles.export(makeId(1))).pieces) yield Buffer.from(piece);
    }
    const third = await openShop();
    expect(value(await third.jobFiles.import(asWritten()))).toMatchObject({ photographsAdded: 1 });
  });

  it('leaves nothing of its reading behind', async () => {
    const shop = await openShop();
    await fillJob(shop);
    const before = readdirSync(tmpdir()).filter((name) => name.startsWith('lugwright-job-file-')).length;
    await importText(shop, await exportText(shop));
    await importText(shop, '{"format": ');
    expect(readdirSync(tmpdir()).filter((name) => name.startsWith('lugwright-job-file-'))).toHaveLength(before);
  });
});

describe('a job that both shops worked on', () => {
  /** Two shops with one job at revision 4, one ready to go on in each. */
  async function share(): Promise<[Services, Services]> {
    const [one, other] = [await openShop(), await openShop()];
    value(await one.jobs.create(makeJob(1)));
    value(await importText(other, await exportText(one)));
    return [one, other];
  }
  const append = async (shop: Services, made: JobEdit): Promise<JobState> => value(await shop.jobs.append(makeId(1), [made]));
  const revision = async (shop: Services): Promise<number> => value(await shop.jobs.read(makeId(1))).revision;

  it('adds up to both works where they do not meet, however their revisions ran', async () => {
    const [one, other] = await share();
    for (const [n, field] of [['notes'], ['customer'], ['minutes']].entries()) {
      await append(one, edit(field, n === 2 ? 30 : `one ${n}`, { base: await revision(one), device: DEVICE.a }));
    }
    await append(other, edit(['record', 'wires', 'W1', 'colour'], 'BK', { base: await revision(other), device: DEVICE.b }));
    // A third device saw what the second wrote, and corrected it: that is no conflict, wherever it is told.
    await append(other, edit(['record', 'wires', 'W1', 'colour'], 'BN', { base: await revision(other), device: DEVICE.c }));
    const taken = value(await importText(one, await exportText(other)));
    expect(taken).toMatchObject({ created: false, editsAdded: 2, job: { conflicts: [], document: { notes: 'one 0', customer: 'one 1', minutes: 30 } } });
    expect(taken.job.record.wires![0]!.colour).toBe('BN');
    value(await importText(other, await exportText(one)));
    const [a, b] = [value(await one.jobs.read(makeId(1))), value(await other.jobs.read(makeId(1)))];
    expect(b.document).toEqual(a.document);
    expect(b.conflicts).toEqual(a.conflicts);
    expect(value(await importText(one, await exportText(other)))).toMatchObject({ editsAdded: 0 });
  });

  it('keeps both values where they wrote different things in one field, in each shop', async () => {
    const [one, other] = await share();
    await append(one, edit(['customer'], 'x', { base: await revision(one), device: DEVICE.a }));
    await append(one, edit(['notes'], 'of one', { base: await revision(one), device: DEVICE.a }));
    await append(other, edit(['minutes'], 5, { base: await revision(other), device: DEVICE.b }));
    await append(other, edit(['minutes'], 6, { base: await revision(other), device: DEVICE.b }));
    await append(other, edit(['minutes'], 7, { base: await revision(other), device: DEVICE.b }));
    await append(other, edit(['notes'], 'of the other', { base: await revision(other), device: DEVICE.b }));
    const fromOther = await exportText(other);
    const fromOne = await exportText(one);
    const [first] = value(await importText(one, fromOther)).job.conflicts;
    expect(first).toMatchObject({ field: ['notes'], standing: { value: 'of one' }, held: { value: 'of the other' } });
    const [second] = value(await importText(other, fromOne)).job.conflicts;
    expect(second).toMatchObject({ field: ['notes'], standing: { value: 'of the other' }, held: { value: 'of one' } });
  });

  it('holds what no longer reads on top of what was done here, and refuses nothing for it', async () => {
    const [one, other] = await share();
    value(await one.jobs.append(makeId(1), [
      edit(['record', 'ohms'], null, { base: await revision(one), device: DEVICE.a }),
      edit(['record', 'wires', 'W4'], null, { base: await revision(one), device: DEVICE.a }),
      edit(['record', 'terminals', 't2'], null, { base: await revision(one), device: DEVICE.a }),
    ]));
    await append(other, edit(['record', 'wires', 'W9'], { wasOn: 't2', leadsTo: 'chassis' }, { base: await revision(other), device: DEVICE.b }));
    const taken = value(await importText(one, await exportText(other)));
    expect(taken.editsAdded).toBe(1);
    expect(taken.job.conflicts).toHaveLength(1);
    expect(taken.job.conflicts[0]).toMatchObject({ field: ['record', 'wires', 'W9'] });
    expect(taken.job.record.wires!.map((wire) => wire.tag)).not.toContain('W9');
  });
});

describe('a bad job file', () => {
  let shop: Services;
  let close: () => Promise<void>;
  let good: JobFile;
  beforeAll(async () => {
    const opened = await openTestServices({ checks: noCheck });
    shop = opened.services;
    close = opened.remove;
    await shop.catalogue.importParts([makePart('p1')]);
    await fillJob(shop);
    good = JSON.parse(await exportText(shop)) as JobFile;
    // Under another id, so that whatever of it were stored would show.
    good = JSON.parse(JSON.stringify(good).replaceAll(makeId(1), makeId(2)).replaceAll('"0000000', '"1000000')) as JobFile;
    good.edits.forEach((each, index) => { each.id = makeId(index, 6); });
  });
  afterAll(() => close());
  beforeEach(async () => { expect(await shop.jobs.list()).toHaveLength(1); });
  afterEach(async () => {
    expect(await shop.jobs.list()).toHaveLength(1);
    expect(await shop.outcomes.list()).toHaveLength(1);
  });
  const written = (change: (file: JobFile) => void): string => {
    const file = structuredClone(good);
    change(file);
    return JSON.stringify(file, null, 1);
  };

  it.each<[string, (file: JobFile) => void, RegExp]>([
    ['another format', (file) => { file.format = 'other' as never; }, /^format \(line 2\): found "other", want "lugwright-job"$/],
    ['a later version', (file) => { file.version = 2 as never; }, /^version \(line 3\): found 2, want 1$/],
    ['an unknown key', (file) => { (file as unknown as Record<string, unknown>)['more'] = 1; }, /^more \(line \d+\): found a key that is not known/],
    ['no edits', (file) => { file.edits = []; }, /^edits \(line \d+\): found 0 entries/],
    ['a bad edit', (file) => { file.edits[2]!.base = -1; }, /^edits\[2\]\.base \(line \d+\): found -1/],
    ['fewer edits than it says', (file) => { file.edits.pop(); }, /^revision \(line \d+\): found 7, want 6, as many edits as there are$/],
    ['an edit twice', (file) => { file.edits.push(file.edits[0]!); file.revision += 1; }, /^edits\[7\]\.id \(line \d+\): found .* not used twice$/],
    ['edits that add up to nothing that reads', (file) => { file.edits[0]!.value = 7; }, /^title: found 7, want text$/],
    ['an outcome of another job', (file) => { file.outcomes[0]!.jobId = makeId(9); }, /^outcomes\[0\]\.jobId \(line \d+\): found .* the job of the file$/],
    ['a photograph whose hash is not its bytes\'', (file) => { file.photographs[0]!.hash = '0'.repeat(64); }, /^photographs\[0\]\.data \(line \d+\): found bytes whose SHA-256 is [\da-f]{64}, want those of 0{64}$/],
    ['a photograph twice', (file) => { file.photographs.push(file.photographs[0]!); }, /^photographs\[2\]\.hash/],
    ['a photograph that is no picture', (file) => { const bytes = Buffer.from('no picture'); file.photographs[1] = { at, hash: createHash('sha256').update(bytes).digest('hex'), data: bytes.toString('base64') }; }, /^photographs\[1\]\.data \(line \d+\): found text, want a photograph/],
    ['a photograph that is not base64', (file) => { file.photographs[0]!.data = 'a*b='; }, /^photographs\[0\]\.data \(line \d+\): found text that is not base64/],
    ['a long photograph that is not base64', (file) => { file.photographs[0]!.data = `${'A'.repeat(20_000)}*${'A'.repeat(20_000)}`; }, /^photographs\[0\]\.data \(line \d+\): found a text of more than 12000 bytes that is not base64/],
    ['a photograph that is too large', (file) => { file.photographs[0]!.data = Buffer.from(makePicture(LIMITS.photographBytes + 3, 1)).toString('base64'); }, /^photographs\[0\]\.data \(line \d+\): found more than 20000000 bytes/],
    ['a text as long as a photograph elsewhere', (file) => { file.edits[3]!.author = 'A'.repeat(40_000); }, /^edits\[3\]\.author \(line \d+\): found a text of 40000 characters, want at most 2000 characters$/],
  ])('with %s is refused with its line and path, and nothing of it is stored', async (_, change, line) => {
    const outcome = await importText(shop, written(change));
    expect(linesOf(outcome)[0]).toMatch(line);
  });

  it.each<[string, string | Uint8Array, string]>([
    ['nothing', '', 'input: found nothing, want a job file'],
    ['half a file', '{"format":"lugwright-job",\n"version":1,\n"edits":[', 'input (line 3): found text that stops being JSON, want a job file'],
    ['a comma too many', '{"format":"lugwright-job",\n"version":1,}\n', 'input (line 2): found text that stops being JSON, want a job file'],
    ['a text that does not end', `{"format":"${'A'.repeat(30_000)}`, 'input (line 1): found text that stops being JSON, want a job file'],
    ['bytes that are no text', Uint8Array.of(0x7b, 0x22, 0xff, 0xfe, 0x22, 0x7d), 'input: found bytes that are not UTF-8, want a job file'],
    ['a list', '[]', 'input (line 1): found a list, want an object'],
  ])('that holds %s is refused', async (_, text, line) => {
    expect(linesOf(await importText(shop, text))[0]!.replace('input: found a list', 'input (line 1): found a list')).toBe(line);
  });

  it('that is too large beside its photographs, or as a whole, is given up half-way', async () => {
    let sent = 0;
    async function* endless(piece: Uint8Array): AsyncGenerator<Uint8Array> {
      for (;;) {
        sent += piece.length;
        yield piece;
      }
    }
    expect(linesOf(await shop.jobFiles.import(endless(Buffer.from(' '.repeat(1 << 20)))))).toEqual([`input: found more than ${LIMITS.jobFileTextBytes} bytes beside the photographs, want at most ${LIMITS.jobFileTextBytes} bytes`]);
    expect(sent).toBeLessThan(LIMITS.jobFileTextBytes + (2 << 20));
    sent = 0;
    expect(linesOf(await shop.jobFiles.import((async function* start() { yield Buffer.from('{"x":"'); yield* endless(Buffer.from('A'.repeat(1 << 22))); })()))).toEqual([`input: found more than ${LIMITS.jobFileBytes} bytes, want at most ${LIMITS.jobFileBytes} bytes`]);
  });

  it('however it is spoiled is refused or taken in whole, never half, and never makes the program fail', async () => {
    const text = JSON.stringify(good);
    let target = await openShop();
    let taken = 0;
    await fc.assert(fc.asyncProperty(fc.nat(text.length - 1), fc.nat(40), fc.string({ maxLength: 6 }), async (start, length, instead) => {
      const outcome = await importText(target, text.slice(0, start) + instead + text.slice(start + length), 997);
      if (!outcome.ok) {
        expect(outcome.refusal.kind).toBe('faults');
        expect([await target.jobs.list(), await target.outcomes.list()]).toEqual([[], []]);
        return;
      }
      target = await openShop();
      taken += 1;
      // Only a letter of some text was another.
      expect(outcome.value).toMatchObject({ created: true, editsAdded: good.edits.length, photographsAdded: good.photographs.length });
    }), { numRuns: 200, seed: 20261125 });
    expect(taken).toBeLessThan(100);
  });
});
