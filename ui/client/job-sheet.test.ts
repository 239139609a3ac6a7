import { beforeEach, describe, expect, it } from 'vitest';
import { stateOfLog, stateOfNewJob, stepJobLog, foldJobLog, documentRecordOf, type JobState, type LoggedEdit } from '../../catalog-schema/index.ts';
import { actIdOf, type Act, type ActKeeper } from './act-keeper.ts';
import { JobSheet } from './job-sheet.ts';
import type { FieldChange } from './work-sheet.ts';

const JOB = '00000000-0000-4000-8000-000000000001';
const [HERE, THERE] = ['00000000-0000-4000-8000-0000000000a1', '00000000-0000-4000-8000-0000000000a2'];
const at = '2026-11-25T08:00:00.000Z';
const begun = { id: JOB, title: 'Pump', record: { system: { nominalV: 12 }, terminals: [{ id: 'A', form: 'stud' as const }] }, at };

/** A server's log in memory, and a keeper that holds acts until the test lets it send. */
function makeBench() {
  let n = 100;
  const newId = (): string => `00000000-0000-4000-8000-${String(n += 1).padStart(12, '0')}`;
  const log: LoggedEdit[] = [
    { id: newId(), field: ['title'], value: begun.title, base: 0, at }, { id: newId(), field: ['record'], value: documentRecordOf(begun.record), base: 1, at },
  ];
  let acts: Act[] = [];
  let state: JobState = stateOfLog(JOB, log);
  let hear: (() => void)[] = [];
  const tell = (): void => { for (const each of hear) each(); };
  const bench = {
    keeps: 'kept' as 'kept' | 'in-memory', reach: 'reached' as ActKeeper['reach'], stores: Promise.resolve(),
    send: async () => {
      for (const act of acts.filter((each) => each.answer === undefined)) { log.push(...act.edits); acts = acts.filter((each) => each !== act); }
      state = stateOfLog(JOB, log);
      tell();
      await settle();
    },
    refuse: async (words: string) => {
      acts = acts.map((act) => ({ ...act, answer: { kind: 'refused', words, at } }));
      tell();
      await settle();
    },
    /** an act of another device, which knows the log up to `base` */
    elsewhere: (changes: readonly FieldChange[], base = log.length) => {
      log.push(...changes.map((change): LoggedEdit => ({ id: newId(), ...change, field: [...change.field], settles: change.settles === undefined ? undefined : [...change.settles], base, device: THERE, author: 'B', at })));
      return stateOfLog(JOB, log);
    },
    get acts() { return acts; },
    get stored() { return stateOfLog(JOB, log); },
    log, tell,
  };
  const keeper: ActKeeper = {
    device: HERE, get reach() { return bench.reach; },
    read: async () => ({ state, acts: [...acts] }),
    keep: async (act) => { await bench.stores; acts = [...acts, act]; tell(); return bench.keeps; },
    replace: async (_jobId, actId, instead) => { acts = [...acts.filter((act) => actIdOf(act) !== actId), ...(instead === undefined ? [] : [instead])]; tell(); },
    sendNow: () => { void bench.send(); },
    follow: (_jobId, call) => { hear.push(call); return () => { hear = hear.filter((each) => each !== call); }; },
  };
  const open = (): JobSheet => new JobSheet(state, keeper, { now: () => new Date('2026-11-25T09:00:00Z'), newId, author: () => 'A' }, acts);
  return { bench, sheet: open(), open };
}
const settle = (): Promise<void> => new Promise((resolve) => { setTimeout(resolve, 0); });
const hang = { field: ['record', 'wires', 'W1'], value: { wasOn: 'A', colour: 'RD' } } as const;
const colour = (value: string): FieldChange => ({ field: ['record', 'wires', 'W1', 'colour'], value });
const note = (value: string): FieldChange => ({ field: ['notes'], value });

let bench: ReturnType<typeof makeBench>['bench'];
let sheet: JobSheet;
let open: () => JobSheet;
beforeEach(() => { ({ bench, sheet, open } = makeBench()); });

describe('a job that is being worked on', () => {
  it('shows an act at once, says when the device has it, and when the server has it', async () => {
    let stored = (): void => {};
    bench.stores = new Promise((resolve) => { stored = resolve; });
    expect(sheet.change([hang])).toEqual({ ok: true });
    expect(sheet.record.wires).toEqual([{ tag: 'W1', wasOn: 'A', colour: 'RD' }]);
    expect(sheet.sendState).toMatchObject({ waiting: 1, keeping: 1 });
    stored();
    await settle();
    expect(sheet.sendState).toMatchObject({ waiting: 1, keeping: 0, inMemory: 0 });
    await bench.send();
    expect(sheet.sendState).toEqual({ waiting: 0, keeping: 0, inMemory: 0, reached: true, refused: '' });
    expect(bench.stored.record.wires).toEqual([{ tag: 'W1', wasOn: 'A', colour: 'RD' }]);
    expect(bench.log.at(-1)).toMatchObject({ base: 2, device: HERE, author: 'A' });
  });

  it('says what goes with the page because the device could not keep it', async () => {
    bench.keeps = 'in-memory';
    sheet.change([hang]);
    await settle();
    expect(sheet.sendState).toMatchObject({ waiting: 1, inMemory: 1 });
  });

  it('opened again shows what waits, and takes it back by undo', async () => {
    sheet.change([hang]);
    sheet.change([colour('YE')]);
    await settle();
    sheet.close();
    const again = open();
    expect(again.record.wires![0]!.colour).toBe('YE');
    again.undo();
    expect(again.record.wires![0]!.colour).toBe('RD');
    again.undo();
    expect(again.record.wires ?? []).toEqual([]);
    await settle();
    await bench.send();
    expect(bench.stored.record.wires ?? []).toEqual([]);
  });

  it('says that the server is not reached', async () => {
    bench.reach = 'unreachable';
    bench.tell();
    await settle();
    expect(sheet.sendState.reached).toBe(false);
  });

  it('refuses here what would not read, says where, and changes nothing', () => {
    const result = sheet.change([{ field: ['record', 'wires', 'W1'], value: { wasOn: 'nowhere' } }]);
    expect(result.ok === false && result.why).toContain('record.wires[0].wasOn');
    expect(sheet.record.wires).toBeUndefined();
    expect(sheet.sendState.waiting).toBe(0);
  });

  it('marks several edits as one act', async () => {
    sheet.change([hang, { field: ['record', 'terminals', 'A', 'marking'], value: 'B' }]);
    await settle();
    const [act] = bench.acts;
    expect(act!.edits.map((edit) => edit.act)).toEqual([act!.edits[0]!.id, act!.edits[0]!.id]);
  });
});

describe('an act the server refused', () => {
  beforeEach(async () => {
    sheet.change([hang]);
    await settle();
    await bench.refuse('record.wires.W1: no');
  });

  it('does not count, is kept with the server\'s words, and is not undone', () => {
    expect(sheet.record.wires).toBeUndefined();
    expect(sheet.sendState).toMatchObject({ waiting: 0, refused: 'record.wires.W1: no' });
    expect(sheet.refused).toMatchObject([{ changes: [{ field: hang.field, value: hang.value }], words: 'record.wires.W1: no' }]);
    expect(sheet.canUndo).toBe(false);
    expect(open().refused).toHaveLength(1);
  });

  it('goes when a person drops it', async () => {
    sheet.dropRefused(sheet.refused[0]!.actId);
    await settle();
    expect(sheet.refused).toEqual([]);
    expect(bench.acts).toEqual([]);
  });

  it('is sent again as it was, or mended, as an act made now', async () => {
    const [old] = bench.acts;
    sheet.mendRefused(sheet.refused[0]!.actId, [{ ...hang, value: { wasOn: 'A', colour: 'BK' } }]);
    await settle();
    expect(sheet.refused).toEqual([]);
    expect(sheet.record.wires![0]!.colour).toBe('BK');
    expect(bench.acts).toHaveLength(1);
    expect(actIdOf(bench.acts[0]!)).not.toBe(actIdOf(old!));
    await bench.send();
    expect(bench.stored.record.wires![0]!.colour).toBe('BK');
  });

  it('is not sent again where it would not read here', () => {
    const result = sheet.mendRefused(sheet.refused[0]!.actId, [{ ...hang, value: { wasOn: 'nowhere' } }]);
    expect(result.ok).toBe(false);
    expect(sheet.refused).toHaveLength(1);
  });
});

describe('beside another device', () => {
  it('lays what waits here over its edits', async () => {
    sheet.change([hang]);
    sheet.takeState(bench.elsewhere([{ field: ['machine'], value: 'Trailer' }]));
    expect(sheet.document.machine).toBe('Trailer');
    expect(sheet.record.wires).toHaveLength(1);
  });

  it('does not show an act whose ground it has taken away, and keeps it for the server to hold', async () => {
    sheet.change([hang]);
    sheet.change([note('x')]);
    await settle();
    sheet.takeState(bench.elsewhere([{ field: ['record', 'terminals'], value: { C: { form: 'tab' } } }]));
    expect(sheet.record.wires).toBeUndefined();
    expect(sheet.document.notes).toBe('x');
    expect(sheet.sendState.waiting).toBe(2);
    await bench.send();
    expect(sheet.conflicts).toMatchObject([{ why: 'does-not-read', held: { value: hang.value } }]);
  });

  it('knows no more of a field than the act that lies over it there, and all of the others', async () => {
    sheet.change([note('here')]);
    await settle();
    sheet.takeState(bench.elsewhere([note('there')]));
    sheet.change([note('here again')]);
    sheet.change([hang]);
    await settle();
    expect(bench.acts.map((act) => act.edits[0]!.base)).toEqual([2, 2, 3]);
    await bench.send();
    expect(sheet.document.notes).toBe('there');
    expect(sheet.conflicts).toMatchObject([{ held: { value: 'here again' } }]);
  });

  it('shows both values of one field, and none once a person has chosen, before the server knows', async () => {
    bench.elsewhere([note('there')]);
    sheet.change([note('here')]);
    await settle();
    await bench.send();
    expect(sheet.document.notes).toBe('there');
    expect(sheet.conflicts).toMatchObject([{ field: ['notes'], standing: { value: 'there', author: 'B' }, held: { value: 'here', author: 'A', device: HERE } }]);
    expect(sheet.settle([{ editId: sheet.conflicts[0]!.editId, value: 'here' }])).toEqual({ ok: true });
    expect(sheet.conflicts).toEqual([]);
    expect(sheet.document.notes).toBe('here');
    await settle();
    await bench.send();
    expect(bench.stored).toMatchObject({ conflicts: [], document: { notes: 'here' } });
  });

  it('says why a choice would not read, and keeps the conflict', async () => {
    sheet.change([hang]);
    await settle();
    bench.elsewhere([{ field: ['record', 'terminals'], value: { C: { form: 'tab' } } }]);
    await bench.send();
    const result = sheet.settle([{ editId: sheet.conflicts[0]!.editId, value: hang.value }]);
    expect(result.ok === false && result.why).toContain('wasOn');
    expect(sheet.conflicts).toHaveLength(1);
  });

  it('undoes only its own field, and not what another has written over it since', async () => {
    sheet.change([hang]);
    sheet.change([note('here')]);
    await settle();
    await bench.send();
    sheet.takeState(bench.elsewhere([note('there'), { field: ['record', 'wires', 'W2'], value: { wasOn: 'A' } }]));
    sheet.undo();
    expect(sheet.document.notes).toBe('there');
    sheet.undo();
    expect(sheet.record.wires!.map((wire) => wire.tag)).toEqual(['W2']);
  });

  it('undoes a tick beside which the server has put another name', async () => {
    sheet.change([{ field: ['asLeft', 'seat'], value: { at, by: 'A' } }]);
    await settle();
    await bench.send();
    bench.log.at(-1)!.value = { at, by: 'Kim' };
    sheet.takeState(bench.elsewhere([{ field: ['machine'], value: 'Trailer' }]));
    expect(sheet.document.asLeft).toEqual({ seat: { at, by: 'Kim' } });
    sheet.undo();
    expect(sheet.document.asLeft).toEqual({});
  });

  it('takes an act back that is held by choosing what stands', async () => {
    bench.elsewhere([note('there')]);
    sheet.change([note('here')]);
    await settle();
    await bench.send();
    sheet.undo();
    expect(sheet.conflicts).toEqual([]);
    await settle();
    await bench.send();
    expect(bench.stored).toMatchObject({ conflicts: [], document: { notes: 'there' } });
  });
});

it('undoes an act by its inverse, back to the record it was', async () => {
  const before = structuredClone(sheet.record);
  sheet.change([hang]);
  sheet.change([{ field: ['record', 'terminals', 'A', 'marking'], value: 'B' }, colour('BK')]);
  sheet.undo();
  expect(sheet.record.wires![0]!.colour).toBe('RD');
  expect(sheet.record.terminals![0]!.marking).toBeUndefined();
  sheet.undo();
  await settle();
  await bench.send();
  expect(sheet.record).toEqual(before);
  expect(bench.stored.record).toEqual(before);
  expect(sheet.canUndo).toBe(false);
});

it('begins where the server begins', () => {
  expect(stepJobLog(foldJobLog(bench.log), []).log.tree).toEqual(stateOfNewJob(begun).document);
});
