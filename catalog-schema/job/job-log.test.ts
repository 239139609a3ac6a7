import { describe, expect, it } from 'vitest';
import type { BenchRecord } from '../bench-record.ts';
import { documentRecordOf } from './job-document.ts';
import type { JsonValue, LoggedEdit } from './job-edit.ts';
import { EMPTY_LOG, findOwnFaults, foldJobLog, groupActs, stateOfLog, stepJobLog, type JobLog } from './job-log.ts';
import { stateOfNewJob } from './new-job.ts';

const record: BenchRecord = {
  system: { nominalV: 12 }, terminals: [{ id: 'B', form: 'stud' }, { id: 'M', form: 'stud' }],
  wires: [{ tag: 'W1', wasOn: 'B' }, { tag: 'W2', wasOn: 'M' }],
};
const at = '2026-11-25T10:00:00Z';
const id = (n: number): string => `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`;
const [DESK, YARD, BAY] = [id(901), id(902), id(903)];
const W1 = ['record', 'wires', 'W1'];

/** A log begun with two edits, to which each call adds one act. */
function makeLog() {
  let next = 1;
  const edits: LoggedEdit[] = [
    { id: id(801), field: ['title'], value: 'Pump', base: 0, at }, { id: id(802), field: ['record'], value: documentRecordOf(record), base: 1, at },
  ];
  let log = foldJobLog(edits);
  const act = (device: string, base: number, ...changes: [string[], JsonValue, Partial<LoggedEdit>?][]): JobLog => {
    const first = next;
    const made = changes.map(([field, value, more]): LoggedEdit => ({ id: id(next++), field, value, base, device, at, ...(changes.length > 1 ? { act: id(first) } : {}), ...more }));
    edits.push(...made);
    log = stepJobLog(log, made).log;
    expect(foldJobLog(edits), 'a log folded from its start').toEqual(log);
    return log;
  };
  return { act, edits, now: () => log, shown: () => stateOfLog(id(700), edits) };
}
const heldIn = (log: JobLog): [string, string, JsonValue, JsonValue][] => log.conflicts.filter(({ agreedAt }) => agreedAt === undefined).map(({ field, why, standing, held }) => [field.join('.'), why, standing.value, held.value]);

describe('two devices that did not know of each other', () => {
  it('change different fields of one wire, and both count', () => {
    const { act } = makeLog();
    act(DESK, 2, [[...W1, 'colour'], 'RD']);
    const log = act(YARD, 2, [[...W1, 'areaMm2'], 16]);
    expect(log.tree).toMatchObject({ record: { wires: { W1: { wasOn: 'B', colour: 'RD', areaMm2: 16 } } } });
    expect(log.conflicts).toEqual([]);
  });

  it('write the same value into one field: there is nothing to choose, however its keys are ordered', () => {
    const { act } = makeLog();
    act(DESK, 2, [[...W1, 'end'], { form: 'ring', holeMm: 6.4 }]);
    expect(act(YARD, 2, [[...W1, 'end'], { holeMm: 6.4, form: 'ring' }]).conflicts).toEqual([]);
  });

  it('write two values into one field: the first stands, the second is held, and both are shown', () => {
    const { act } = makeLog();
    act(DESK, 2, [[...W1, 'colour'], 'RD', { author: 'A' }]);
    const log = act(YARD, 2, [[...W1, 'colour'], 'BK', { author: 'B', at: '2026-11-25T09:00:00Z' }]);
    expect(log.tree).toMatchObject({ record: { wires: { W1: { colour: 'RD' } } } });
    expect(log.conflicts).toEqual([{
      editId: id(2), field: [...W1, 'colour'], why: 'other-value', faults: [],
      standing: { value: 'RD', author: 'A', device: DESK, at }, held: { value: 'BK', author: 'B', device: YARD, at: '2026-11-25T09:00:00Z', revision: 4 },
    }]);
  });

  it('change a wire and take it away: whichever came second is held', () => {
    const one = makeLog();
    one.act(DESK, 2, [[...W1, 'colour'], 'RD']);
    expect(heldIn(one.act(YARD, 2, [W1, null]))).toEqual([['record.wires.W1', 'other-value', { wasOn: 'B', colour: 'RD' }, null]]);
    const other = makeLog();
    other.act(YARD, 2, [W1, null]);
    const log = other.act(DESK, 2, [[...W1, 'colour'], 'RD']);
    expect(heldIn(log)).toEqual([['record.wires.W1.colour', 'other-value', null, 'RD']]);
    expect(log.tree).toMatchObject({ record: { wires: { W2: {} } } });
  });

  it('write a whole list and one of its entries: only what differs where both wrote is a conflict', () => {
    const one = makeLog();
    one.act(DESK, 2, [[...W1, 'colour'], 'RD']);
    expect(one.act(YARD, 2, [['record', 'wires'], { W1: { wasOn: 'B', colour: 'RD' } }]).conflicts).toEqual([]);
    const other = makeLog();
    other.act(DESK, 2, [[...W1, 'colour'], 'RD']);
    expect(other.act(YARD, 2, [['record', 'wires'], { W1: { wasOn: 'B' } }]).conflicts).toHaveLength(1);
  });

  it('are told apart by author where they name no device, and each is one of its own where it names neither', () => {
    const named = makeLog();
    named.act(DESK, 2, [['notes'], 'a', { device: undefined, author: 'A' }]);
    expect(named.act(DESK, 2, [['notes'], 'b', { device: undefined, author: 'A' }]).conflicts).toEqual([]);
    const nameless = makeLog();
    nameless.act(DESK, 2, [['notes'], 'a', { device: undefined }]);
    expect(nameless.act(DESK, 2, [['notes'], 'b', { device: undefined }]).conflicts).toHaveLength(1);
  });
});

describe('who knows of an edit', () => {
  it('writes over it', () => {
    const { act } = makeLog();
    act(DESK, 2, [['notes'], 'a']);
    expect(act(YARD, 3, [['notes'], 'b'])).toMatchObject({ tree: { notes: 'b' }, conflicts: [] });
    expect(act(YARD, 3, [['notes'], 'c']), 'its own edits a device always knows').toMatchObject({ tree: { notes: 'c' }, conflicts: [] });
  });

  it('decides nothing that is held by writing another value, and what is held stays against what stands then', () => {
    const { act } = makeLog();
    act(DESK, 2, [['notes'], 'a']);
    act(YARD, 2, [['notes'], 'b']);
    const log = act(BAY, 4, [['notes'], 'c', { author: 'C' }]);
    expect(heldIn(log)).toEqual([['notes', 'other-value', 'c', 'b']]);
    expect(log.conflicts[0]!.standing).toMatchObject({ author: 'C', device: BAY });
  });

  it('ends a conflict by writing what is held: both sides then say the same, and who knows that may write on', () => {
    const { act, shown } = makeLog();
    act(DESK, 2, [['notes'], 'a']);
    act(YARD, 2, [['notes'], 'b']);
    act(BAY, 3, [['notes'], 'b']);
    expect(shown()).toMatchObject({ document: { notes: 'b' }, conflicts: [] });
    expect(act(DESK, 5, [['notes'], 'c'])).toMatchObject({ tree: { notes: 'c' }, conflicts: [] });
  });

  it('does not write over what is agreed on by writing on without knowing that it is', () => {
    const { act, shown } = makeLog();
    act(DESK, 2, [['notes'], 'a']);
    act(YARD, 2, [['notes'], 'b']);
    act(DESK, 3, [['notes'], 'b']);
    expect(shown().conflicts).toEqual([]);
    act(DESK, 3, [['notes'], 'c']);
    expect(shown()).toMatchObject({ document: { notes: 'c' }, conflicts: [{ editId: id(2), standing: { value: 'c' }, held: { value: 'b' } }] });
  });
});

describe('a person decides', () => {
  const meet = () => {
    const made = makeLog();
    made.act(DESK, 2, [['notes'], 'a']);
    made.act(YARD, 2, [['notes'], 'b']);
    return made;
  };
  it.each([['what stands', 'a'], ['what is held', 'b'], ['a third', 'c'], ['nothing', null]])('for %s', (_what, value) => {
    const log = meet().act(BAY, 4, [['notes'], value, { settles: [id(2)] }]);
    expect(log.conflicts).toEqual([]);
    expect(log.tree['notes'] ?? null).toBe(value);
  });

  it('twice on two devices: a second other choice is held, the same one is not', () => {
    const differ = meet();
    differ.act(DESK, 4, [['notes'], 'a', { settles: [id(2)] }]);
    expect(heldIn(differ.act(BAY, 4, [['notes'], 'b', { settles: [id(2)] }]))).toEqual([['notes', 'other-value', 'a', 'b']]);
    const agree = meet();
    agree.act(DESK, 4, [['notes'], 'b', { settles: [id(2)] }]);
    expect(agree.act(BAY, 4, [['notes'], 'b', { settles: [id(2)] }]).conflicts).toEqual([]);
  });

  it('without having seen what stands now: the choice is held, and what it chose among stays open', () => {
    const made = meet();
    made.act(DESK, 4, [['notes'], 'later']);
    const log = made.act(BAY, 4, [['notes'], 'b', { settles: [id(2)] }]);
    expect(heldIn(log)).toEqual([['notes', 'other-value', 'later', 'b'], ['notes', 'other-value', 'later', 'b']]);
    expect(made.act(DESK, 6, [['notes'], 'b', { settles: log.conflicts.map((conflict) => conflict.editId) }])).toMatchObject({ tree: { notes: 'b' }, conflicts: [] });
  });

  it('without having seen what the device wrote after what is held: that stays open', () => {
    const made = meet();
    made.act(YARD, 2, [['notes'], 'b and more']);
    expect(heldIn(made.act(BAY, 4, [['notes'], 'a', { settles: [id(2)] }]))).toEqual([['notes', 'other-value', 'a', 'b and more']]);
  });
});

describe('what a device wrote over its own held edit before it knew', () => {
  it('takes its place', () => {
    const { act } = makeLog();
    act(DESK, 2, [['notes'], 'a']);
    act(YARD, 2, [['notes'], 'b']);
    const log = act(YARD, 3, [['notes'], 'c']);
    expect(log.conflicts).toMatchObject([{ editId: id(3), standing: { value: 'a' }, held: { value: 'c', revision: 5 } }]);
  });

  it('is written into it where it goes deeper', () => {
    const { act } = makeLog();
    act(DESK, 2, [[...W1, 'areaMm2'], 16]);
    act(YARD, 2, [W1, { wasOn: 'M' }]);
    const log = act(YARD, 2, [[...W1, 'colour'], 'RD']);
    expect(heldIn(log)).toEqual([['record.wires.W1', 'other-value', { wasOn: 'B', areaMm2: 16 }, { wasOn: 'M', colour: 'RD' }]]);
  });

  it('swallows it where it goes wider', () => {
    const { act } = makeLog();
    act(DESK, 2, [[...W1, 'colour'], 'RD']);
    act(YARD, 2, [[...W1, 'colour'], 'BK']);
    expect(heldIn(act(YARD, 2, [W1, null]))).toEqual([['record.wires.W1', 'other-value', { wasOn: 'B', colour: 'RD' }, null]]);
  });

  it('keeps its place when a copy of an earlier request comes late', () => {
    const { act } = makeLog();
    act(DESK, 2, [['notes'], 'a']);
    act(YARD, 2, [['notes'], 'later', { at: '2026-11-25T10:00:09Z' }]);
    expect(heldIn(act(YARD, 2, [['notes'], 'earlier', { at: '2026-11-25T10:00:01Z' }])).map(([, , , held]) => held)).toEqual(['later', 'earlier']);
  });

  it('counts for itself once the device knows that it is held', () => {
    const { act } = makeLog();
    act(DESK, 2, [['notes'], 'a']);
    act(YARD, 2, [['notes'], 'b']);
    expect(heldIn(act(YARD, 4, [['notes'], 'a again']))).toEqual([['notes', 'other-value', 'a again', 'b']]);
  });
});

it('an edit that comes late, after its own device has written on, does not count over that', () => {
  const { act, shown } = makeLog();
  act(DESK, 2, [['notes'], 'later', { at: '2026-11-25T10:00:09Z' }]);
  act(DESK, 2, [['notes'], 'earlier', { at: '2026-11-25T10:00:01Z' }], [['machine'], 'Trailer', { at: '2026-11-25T10:00:01Z' }]);
  expect(shown()).toMatchObject({ document: { notes: 'later', machine: 'Trailer' }, conflicts: [{ standing: { value: 'later' }, held: { value: 'earlier' } }] });
});

describe('one act of several edits', () => {
  it('counts but for the edit that met another, where the rest reads', () => {
    const { act } = makeLog();
    act(DESK, 2, [[...W1, 'colour'], 'RD']);
    const log = act(YARD, 2, [[...W1, 'colour'], 'BK'], [[...W1, 'areaMm2'], 16]);
    expect(heldIn(log)).toEqual([['record.wires.W1.colour', 'other-value', 'RD', 'BK']]);
    expect(log.tree).toMatchObject({ record: { wires: { W1: { colour: 'RD', areaMm2: 16 } } } });
  });

  it('is held whole where the rest would not read', () => {
    const { act } = makeLog();
    // One renames a terminal, the other hangs its wire elsewhere.
    act(DESK, 2, [[...W1, 'wasOn'], 'M'], [['record', 'terminals', 'B'], null]);
    const log = act(YARD, 2, [['record', 'terminals', 'B'], null], [['record', 'terminals', 'M'], null], [['record', 'terminals', 'X'], { form: 'stud' }], [[...W1, 'wasOn'], 'X'], [['record', 'wires', 'W2', 'wasOn'], 'X']);
    expect(heldIn(log).map(([field, why]) => [field, why])).toEqual([
      ['record.terminals.M', 'does-not-read'], ['record.terminals.X', 'does-not-read'], ['record.wires.W1.wasOn', 'other-value'], ['record.wires.W2.wasOn', 'does-not-read'],
    ]);
    expect(log.tree).toMatchObject({ record: { terminals: { M: {} }, wires: { W1: { wasOn: 'M' }, W2: { wasOn: 'M' } } } });
    expect(log.conflicts[0]!.faults[0]).toContain('wasOn');
  });

  it('is told from the next by its own mark', () => {
    const mark = (n: number, act?: number): LoggedEdit => ({ id: id(n), field: ['notes'], value: n, base: 0, at, ...(act === undefined ? {} : { act: id(act) }) });
    expect(groupActs([mark(1), mark(2, 2), mark(3, 2), mark(4, 4), mark(5), mark(6, 2)]).map((act) => act.length)).toEqual([1, 2, 1, 1, 1]);
  });
});

describe('an edit that would not read on top of what arrived meanwhile', () => {
  it('is held with what would be wrong, and counts once its ground is back and a person takes it', () => {
    const { act } = makeLog();
    act(DESK, 2, [['record', 'wires', 'W2'], null], [['record', 'terminals', 'M'], null]);
    const log = act(YARD, 2, [['record', 'wires', 'W3'], { wasOn: 'M' }]);
    expect(log.conflicts).toMatchObject([{ why: 'does-not-read', standing: { value: null }, faults: [expect.stringContaining('record.wires[1].wasOn')] }]);
    act(DESK, 5, [['record', 'terminals', 'M'], { form: 'stud' }]);
    expect(act(DESK, 6, [['record', 'wires', 'W3'], { wasOn: 'M' }, { settles: [id(3)] }]).conflicts).toEqual([]);
  });

  it('is its own device\'s fault where that knew no better', () => {
    const made = makeLog();
    made.act(DESK, 2, [['notes'], 'a']);
    const bad: LoggedEdit = { id: id(50), field: ['record', 'wires', 'W3'], value: { wasOn: 'nowhere' }, base: 2, device: YARD, at };
    expect(stepJobLog(made.now(), [bad]).faults).toHaveLength(1);
    expect(findOwnFaults(made.edits, new Set(), [bad]).map((fault) => fault.path)).toEqual(['record.wires[2].wasOn']);
    expect(findOwnFaults(made.edits, new Set(), [{ ...bad, value: { wasOn: 'B' } }])).toEqual([]);
  });
});

describe('a sign-off', () => {
  const signature = { at, by: 'A' };
  it('is held where its device did not know of a change it vouches for', () => {
    const { act } = makeLog();
    act(DESK, 2, [[...W1, 'colour'], 'RD']);
    const log = act(YARD, 2, [['signedOff'], signature]);
    expect(heldIn(log)).toEqual([['signedOff', 'signed-off', null, signature]]);
  });

  it('holds a change of what it vouches for by a device that did not know of it, and nothing else', () => {
    const { act } = makeLog();
    act(DESK, 2, [['signedOff'], signature]);
    act(YARD, 2, [['notes'], 'x']);
    const log = act(YARD, 2, [['record', 'system', 'interlockList'], [{ name: 'Seat', acts: 'return' }]]);
    expect(heldIn(log).map(([field, why]) => [field, why])).toEqual([['record.system.interlockList', 'signed-off']]);
    expect(log.tree).toMatchObject({ signedOff: signature, notes: 'x' });
  });

  it('is held while something waits for a choice, and may come with the last choice', () => {
    const { act } = makeLog();
    act(DESK, 2, [['notes'], 'a']);
    act(YARD, 2, [['notes'], 'b']);
    expect(heldIn(act(BAY, 4, [['signedOff'], signature])).map(([field, why]) => [field, why])).toEqual([['notes', 'other-value'], ['signedOff', 'open-conflicts']]);
    const log = act(BAY, 5, [['notes'], 'a', { settles: [id(2)] }], [['signedOff'], signature, { settles: [id(3)] }]);
    expect(log).toMatchObject({ conflicts: [], tree: { signedOff: signature } });
  });

  it('is held with what the server found open', () => {
    const { act } = makeLog();
    const log = act(YARD, 2, [['signedOff'], signature, { heldFor: ['asLeft.seat: not tried'] }]);
    expect(log.conflicts).toMatchObject([{ why: 'not-ready', faults: ['asLeft.seat: not tried'] }]);
    expect(log.tree['signedOff']).toBeUndefined();
  });
});

describe('a job of a log', () => {
  it('is begun by edits that read only together, and is what a device shows of a job it begins', () => {
    const begun = { id: id(700), title: 'Pump', machine: 'Pump, petrol', record, at };
    const edits = [['title', begun.title], ['machine', begun.machine], ['record', documentRecordOf(record)]]
      .map(([field, value], base): LoggedEdit => ({ id: id(base), field: [field as string], value: value as JsonValue, base, at }));
    expect(stateOfLog(id(700), edits)).toEqual(stateOfNewJob(begun));
    expect(foldJobLog([])).toEqual(EMPTY_LOG);
    expect(() => stateOfLog(id(700), [])).toThrow();
  });
});
