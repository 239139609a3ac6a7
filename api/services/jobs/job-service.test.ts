import { array, constantFrom, sample } from 'fast-check';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { jobState, stateOfLog, type JobEdit, type JobState, type JsonValue } from '../../../catalog-schema/index.ts';
import { openTestServices } from '../open-test-services.ts';
import type { Services } from '../open-services.ts';
import type { Outcome } from '../outcome.ts';
import { makeId, makeJob, sampleRecord } from '../sample-data.ts';

let services: Services;
let file: string;
let remove: () => Promise<void>;
beforeEach(async () => {
  ({ services, file, remove } = await openTestServices());
});
afterEach(() => remove());

function edit(n: number, field: string[], value: JsonValue, more: Partial<JobEdit> = {}): JobEdit {
  return { id: makeId(n, 2), field, value, base: 3, at: '2026-11-25T10:00:00Z', ...more };
}

function valueIn<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusal));
  return outcome.value;
}
const pathsIn = (outcome: Outcome<unknown>): string[] => (
  !outcome.ok && outcome.refusal.kind === 'faults' ? outcome.refusal.faults.map((fault) => fault.path) : []
);

test('a new job is its first edits, and gives its record back as it came', async () => {
  const { created, job } = valueIn(await services.jobs.create(makeJob(1)));
  expect(created).toBe(true);
  expect(jobState.parse(job)).toEqual(job);
  expect(job.record).toEqual(sampleRecord);
  expect(job).toMatchObject({ revision: 3, createdAt: '2026-11-25T09:00:00Z', changedAt: '2026-11-25T09:00:00Z', document: { title: 'Job 1', machine: 'Hedge shredder' } });
  expect(valueIn(await services.jobs.readEdits(makeId(1))).map((each) => each.field[0])).toEqual(['title', 'machine', 'record']);
});

test('the same job sent again is answered as it stands and adds nothing', async () => {
  await services.jobs.create(makeJob(1));
  await services.jobs.append(makeId(1), [edit(1, ['title'], 'Renamed')]);
  const again = valueIn(await services.jobs.create(makeJob(1, { title: 'Quite another' })));
  expect(again.created).toBe(false);
  expect(again.job).toMatchObject({ revision: 4, document: { title: 'Renamed' } });
});

test('two devices that begin one job at once begin it once', async () => {
  const outcomes = await Promise.all(Array.from({ length: 8 }, () => services.jobs.create(makeJob(1))));
  expect(outcomes.map((outcome) => valueIn(outcome).created).filter(Boolean)).toHaveLength(1);
  expect(await services.jobs.list()).toHaveLength(1);
});

test('an edit of one wire leaves the others, and null takes a field away', async () => {
  await services.jobs.create(makeJob(1));
  const after = valueIn(await services.jobs.append(makeId(1), [
    edit(1, ['record', 'wires', 'W2', 'colour'], 'BK'), edit(2, ['record', 'wires', 'W1', 'colour'], null), edit(3, ['machine'], null),
  ]));
  expect(after.record.wires).toEqual([
    { tag: 'W1', wasOn: 'B', leadsTo: 'battery' }, { tag: 'W2', wasOn: 'M', leadsTo: 'starter', colour: 'BK' },
    ...sampleRecord.wires!.slice(2),
  ]);
  expect(after.document.machine).toBeUndefined();
  expect(after.revision).toBe(6);
});

test('an edit sent again, alone, twice in one batch or beside new ones, counts once', async () => {
  await services.jobs.create(makeJob(1));
  const first = edit(1, ['notes'], 'first');
  await services.jobs.append(makeId(1), [first, first]);
  expect(valueIn(await services.jobs.append(makeId(1), [first])).revision).toBe(4);
  const after = valueIn(await services.jobs.append(makeId(1), [edit(2, ['notes'], 'second', { base: 4 }), first]));
  expect(after).toMatchObject({ revision: 5, document: { notes: 'second' } });
});

test('a batch with one bad edit stores none of it', async () => {
  await services.jobs.create(makeJob(1));
  const before = valueIn(await services.jobs.read(makeId(1)));
  const refused = await services.jobs.append(makeId(1), [edit(1, ['notes'], 'good'), edit(2, ['record', 'wires', 'W9', 'colour'], 'RD')]);
  expect(pathsIn(refused)).toEqual(['record.wires[4].wasOn']);
  expect(valueIn(await services.jobs.read(makeId(1)))).toEqual(before);
  expect(valueIn(await services.jobs.readEdits(makeId(1)))).toHaveLength(3);
  expect(valueIn(await services.jobs.append(makeId(1), [edit(1, ['notes'], 'good')])).document.notes).toBe('good');
});

test.each<[string, string[], JsonValue, string]>([
  ['an unknown field', ['price'], 3, 'price'],
  ['a title that is no text', ['title'], 3, 'title'],
  ['the title taken away', ['title'], null, 'title'],
  ['the whole record taken away', ['record'], null, 'record'],
  ['an impossible number in the record', ['record', 'system', 'nominalV'], -12, 'record.system.nominalV'],
  ['a wire on a terminal that is not there', ['record', 'wires', 'W1', 'wasOn'], 'X9', 'record.wires[0].wasOn'],
  ['a key that would be lost', ['record', '__proto__', 'x'], 1, 'edits[0].field[1]'],
])('%s is refused with its path', async (_, field, value, path) => {
  await services.jobs.create(makeJob(1));
  expect(pathsIn(await services.jobs.append(makeId(1), [edit(1, field, value)]))).toContain(path);
  expect(valueIn(await services.jobs.read(makeId(1))).revision).toBe(3);
});

test('an edit whose id another job has is refused', async () => {
  await services.jobs.create(makeJob(1));
  await services.jobs.create(makeJob(2));
  await services.jobs.append(makeId(1), [edit(1, ['notes'], 'a')]);
  expect(pathsIn(await services.jobs.append(makeId(2), [edit(1, ['notes'], 'a')]))).toEqual(['edits[0].id']);
});

test('a terminal or wire named like no key can be is refused, not lost', async () => {
  const record = { system: { nominalV: 12 }, wires: [{ tag: '__proto__', wasOn: 'B' }] };
  expect(pathsIn(await services.jobs.create(makeJob(1, { record })))).toEqual(['record.wires[0].tag']);
  expect(await services.jobs.list()).toEqual([]);
});

test('a job that is not there is not found', async () => {
  for (const outcome of [await services.jobs.read(makeId(9)), await services.jobs.readEdits(makeId(9)), await services.jobs.append(makeId(9), [edit(1, ['notes'], 'x')])]) {
    expect(outcome).toMatchObject({ ok: false, refusal: { kind: 'not-found' } });
  }
});

test('jobs stand in the order of their last change as the server saw it, whatever the clocks of the devices say', async () => {
  await services.jobs.create(makeJob(1, { at: '2026-11-25T09:00:00Z' }));
  await services.jobs.create(makeJob(2, { at: '2026-11-20T09:00:00Z' }));
  await services.jobs.create(makeJob(3, { at: '2030-01-01T09:00:00Z' }));
  await services.jobs.append(makeId(1), [edit(1, ['notes'], 'x', { at: '2020-01-01T00:00:00Z' })]);
  expect((await services.jobs.list()).map((job) => job.document.title)).toEqual(['Job 1', 'Job 3', 'Job 2']);
});

describe('two devices that did not know of each other', () => {
  const [here, there] = [makeId(1, 9), makeId(2, 9)];
  const at = '2026-11-25T10:00:00Z';
  beforeEach(async () => { await services.jobs.create(makeJob(1)); });
  const send = async (...edits: JobEdit[]): Promise<Outcome<JobState>> => services.jobs.append(makeId(1), edits);

  test('both have what they wrote in different fields', async () => {
    await send(edit(1, ['record', 'wires', 'W1', 'colour'], 'BU', { device: here }));
    const after = valueIn(await send(edit(2, ['record', 'wires', 'W2', 'colour'], 'BK', { device: there })));
    expect(after.record.wires!.slice(0, 2).map((wire) => wire.colour)).toEqual(['BU', 'BK']);
    expect(after.conflicts).toEqual([]);
  });

  test('keep both values of one field until a person has chosen', async () => {
    await send(edit(1, ['notes'], 'from here', { device: here, author: 'A' }));
    const both = valueIn(await send(edit(2, ['notes'], 'from there', { device: there, author: 'B' })));
    expect(both).toMatchObject({ revision: 5, document: { notes: 'from here' }, conflicts: [{
      editId: makeId(2, 2), field: ['notes'], why: 'other-value', faults: [],
      standing: { value: 'from here', author: 'A', device: here, at }, held: { value: 'from there', author: 'B', device: there, at, revision: 5 },
    }] });
    expect(jobState.parse(both)).toEqual(both);
    const chosen = valueIn(await send(edit(3, ['notes'], 'from there', { base: 5, settles: [makeId(2, 2)], device: here })));
    expect(chosen).toMatchObject({ revision: 6, document: { notes: 'from there' }, conflicts: [] });
    expect(valueIn(await services.jobs.readEdits(makeId(1))).slice(3).map((each) => each.value)).toEqual(['from here', 'from there', 'from there']);
  });

  test('are told what an edit would break that was made before the other took its ground away, and nothing is lost', async () => {
    await send(edit(1, ['record', 'wires', 'W4'], null, { device: here }), edit(2, ['record', 'ohms'], null, { device: here }), edit(3, ['record', 'terminals', 't2'], null, { device: here }));
    const after = valueIn(await send(edit(4, ['record', 'wires', 'W9'], { wasOn: 't2' }, { device: there })));
    expect(after.conflicts).toMatchObject([{ why: 'does-not-read', standing: { value: null }, held: { value: { wasOn: 't2' } }, faults: [expect.stringContaining('wasOn')] }]);
    const own = await send(edit(5, ['record', 'wires', 'W8'], { wasOn: 'nowhere' }, { device: there }));
    expect(pathsIn(own)).toEqual(['record.wires[5].wasOn']);
  });

  test('cannot sign off while something waits for a choice', async () => {
    const signature = { at, by: 'A' };
    await send(edit(1, ['notes'], 'from here', { device: here }));
    await send(edit(2, ['notes'], 'from there', { device: there }));
    const refused = await send(edit(3, ['signedOff'], signature, { device: here, base: 5 }));
    expect(pathsIn(refused)).toEqual(['signedOff']);
    const late = valueIn(await send(edit(4, ['signedOff'], signature, { device: here, base: 4 })));
    expect(late.document.signedOff).toBeUndefined();
    expect(late.conflicts.map(({ why }) => why)).toEqual(['other-value', 'open-conflicts']);
  });

  test('a sign-off before its time is refused to who knows all, and held of who does not', async () => {
    const { services: checked, remove: close } = await openTestServices({ checks: { findSignOffBlocks: async ({ asLeft }) => (
      asLeft?.['seat'] === undefined ? [{ path: 'asLeft.seat', found: 'nothing', want: 'the seat switch tried' }] : []
    ) } });
    await checked.jobs.create(makeJob(1));
    const sign = (n: number, base: number): Promise<Outcome<JobState>> => checked.jobs.append(makeId(1), [edit(n, ['signedOff'], { at, by: 'A' }, { base, device: here })]);
    expect(pathsIn(await sign(1, 3))).toEqual(['asLeft.seat']);
    await checked.jobs.append(makeId(1), [edit(2, ['notes'], 'x', { device: there })]);
    const held = valueIn(await sign(3, 3));
    expect(held.document.signedOff).toBeUndefined();
    expect(held.conflicts).toMatchObject([{ why: 'not-ready', faults: ['asLeft.seat: found nothing, want the seat switch tried'] }]);
    expect(valueIn(await checked.jobs.readEdits(makeId(1))).at(-1)).toMatchObject({ heldFor: held.conflicts[0]!.faults });
    await checked.jobs.append(makeId(1), [edit(4, ['asLeft', 'seat'], { at }, { base: 5, device: here, settles: [makeId(3, 2)] })]);
    expect(valueIn(await sign(5, 6)).document.signedOff).toEqual({ at, by: 'A' });
    await close();
  });

  test('a whole log is taken in elsewhere as it stands, once', async () => {
    await send(edit(1, ['notes'], 'from here', { device: here }));
    const state = valueIn(await send(edit(2, ['notes'], 'from there', { device: there })));
    const log = valueIn(await services.jobs.readEdits(makeId(1)));
    const other = await openTestServices();
    expect(valueIn(await other.services.jobs.takeLog(makeId(1), log))).toEqual(state);
    expect(valueIn(await other.services.jobs.readEdits(makeId(1)))).toEqual(log);
    expect(await other.services.jobs.takeLog(makeId(1), log)).toMatchObject({ ok: false, refusal: { kind: 'conflict' } });
    expect(pathsIn(await other.services.jobs.takeLog(makeId(2), log.slice(0, 1)))).toEqual(['edits[0].id']);
    await other.remove();
  });

  test('an edit of a revision that is not there yet, and a piece of an act, are refused', async () => {
    expect(pathsIn(await send(edit(1, ['notes'], 'x', { base: 9 })))).toEqual(['edits[0].base']);
    await send(edit(2, ['notes'], 'x', { act: makeId(2, 2) }));
    expect(pathsIn(await send(edit(2, ['notes'], 'x', { act: makeId(2, 2) }), edit(3, ['machine'], 'y', { act: makeId(2, 2) })))).toEqual(['edits[1].act']);
  });
});

test('edits sent at once by many devices are all kept', async () => {
  await services.jobs.create(makeJob(1));
  await Promise.all(Array.from({ length: 40 }, (_, n) => services.jobs.append(makeId(1), [edit(n, ['asLeft', `step-${n}`], { at: '2026-11-25T10:00:00Z', reading: n })])));
  const after = valueIn(await services.jobs.read(makeId(1)));
  expect(Object.keys(after.document.asLeft ?? {})).toHaveLength(40);
  expect(after.revision).toBe(43);
});

test('what is kept beside the log is always what the log adds up to, also after a restart', async () => {
  await services.jobs.create(makeJob(1));
  const anyEdit = constantFrom<[string[], JsonValue]>(
    [['notes'], 'n'], [['notes'], null], [['title'], 'T'], [['title'], null], [['record', 'wires', 'W1', 'colour'], 'BU'],
    [['record', 'wires', 'W1'], null], [['record', 'wires', 'W1'], { wasOn: 'B' }], [['record', 'wires'], null],
    [['record', 'ohms', 'r9'], { between: ['t1', 't2'], ohm: 5 }], [['record', 'terminals', '86'], { form: 'tab' }], [['minutes'], 12], [['minutes'], -1],
  );
  const batches = sample(array(anyEdit, { minLength: 1, maxLength: 4 }), { numRuns: 60, seed: 7 });
  let n = 0;
  let met = 0;
  const devices = [makeId(1, 9), makeId(2, 9)];
  for (const batch of batches) {
    // Some know all that is there, some lag behind.
    const { revision, conflicts } = valueIn(await services.jobs.read(makeId(1)));
    met = Math.max(met, conflicts.length);
    await services.jobs.append(makeId(1), batch.map(([field, value]) => edit(n++, field, value, { base: Math.max(0, revision - (n % 3) * 2), device: devices[batch.length % 2]! })));
  }
  await services.close();
  const again = await openTestServices({ file });
  const state = valueIn(await again.services.jobs.read(makeId(1)));
  const edits = valueIn(await again.services.jobs.readEdits(makeId(1)));
  expect(edits.length).toBeGreaterThan(30);
  expect(met).toBeGreaterThan(0);
  expect(state).toEqual(stateOfLog(makeId(1), edits));
  await again.remove();
  ({ services, file, remove } = await openTestServices());
});
