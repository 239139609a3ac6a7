import { describe, expect, it } from 'vitest';
import { applyEdit, recordOfDocument, type BenchRecord, type JobDocument, type JobEdit, type JobState } from '../../catalog-schema/index.ts';
import { JobSheet, RETRY_MS, type SheetWorld } from './job-sheet.ts';
import { ServiceFault, type Service } from './service.ts';

type Tree = Parameters<typeof applyEdit>[0];
const start = (): JobState => ({
  id: '00000000-0000-4000-8000-000000000001', revision: 0, createdAt: '2026-11-25T08:00:00.000Z', changedAt: '2026-11-25T08:00:00.000Z', conflicts: [],
  document: { title: 'Pump', record: { system: { nominalV: 12 }, terminals: { A: { form: 'stud' } } } } as JobDocument,
  record: { system: { nominalV: 12 }, terminals: [{ id: 'A', form: 'stud' }] },
});

/** A server in memory that keeps an edit once, and a world whose clock and timers the test turns. */
function makeBench() {
  let state = start();
  const seen = new Set<string>();
  const timers: { work: () => void; ms: number }[] = [];
  const server = { answer: 'takes' as 'takes' | 'unreachable' | 'refuses' | 'loses-the-answer' };
  const service = {
    postEdits: async (_id: string, edits: readonly JobEdit[]): Promise<JobState> => {
      if (server.answer === 'unreachable') throw new ServiceFault('unreachable', '');
      if (server.answer === 'refuses') throw new ServiceFault('refused', 'record.wires.W1: no');
      for (const edit of edits) {
        if (seen.has(edit.id)) continue;
        seen.add(edit.id);
        const document = applyEdit(state.document as unknown as Tree, edit);
        state = { ...state, revision: state.revision + 1, document: document as unknown as JobDocument, record: recordOfDocument(document) as BenchRecord };
      }
      if (server.answer === 'loses-the-answer') throw new ServiceFault('unreachable', '');
      return state;
    },
  } as unknown as Service;
  let id = 0;
  const world: SheetWorld = {
    now: () => new Date('2026-11-25T09:00:00Z'), newId: () => `00000000-0000-4000-8000-${String(id += 1).padStart(12, '0')}`, author: () => undefined,
    later: (work, ms) => { timers.push({ work, ms }); return () => {}; },
  };
  return { sheet: new JobSheet(start(), service, world), server, timers, stored: () => state };
}
const settle = (): Promise<void> => new Promise((resolve) => { setTimeout(resolve, 0); });
const hang = { field: ['record', 'wires', 'W1'], value: { wasOn: 'A', colour: 'RD' } } as const;

describe('a job that is being worked on', () => {
  it('shows an edit at once and sends it', async () => {
    const { sheet, stored } = makeBench();
    expect(sheet.change([hang])).toEqual({ ok: true });
    expect(sheet.record.wires).toEqual([{ tag: 'W1', wasOn: 'A', colour: 'RD' }]);
    expect(sheet.sendState.waiting).toBe(1);
    await settle();
    expect(sheet.sendState).toEqual({ waiting: 0, reached: true, refused: '' });
    expect(stored().record.wires).toEqual([{ tag: 'W1', wasOn: 'A', colour: 'RD' }]);
  });

  it('keeps what could not be sent, tries again later, and sends it in order', async () => {
    const { sheet, server, timers, stored } = makeBench();
    server.answer = 'unreachable';
    sheet.change([hang]);
    sheet.change([{ field: ['record', 'wires', 'W1', 'colour'], value: 'YE' }]);
    await settle();
    expect(sheet.sendState).toMatchObject({ waiting: 2, reached: false });
    expect(sheet.record.wires![0]!.colour).toBe('YE');
    expect(timers[0]!.ms).toBe(RETRY_MS[0]);
    server.answer = 'takes';
    timers[0]!.work();
    await settle();
    expect(sheet.sendState).toMatchObject({ waiting: 0, reached: true });
    expect(stored().record.wires![0]!.colour).toBe('YE');
  });

  it('makes one edit of one whose answer was lost and that was sent twice', async () => {
    const { sheet, server, timers, stored } = makeBench();
    server.answer = 'loses-the-answer';
    sheet.change([hang]);
    await settle();
    server.answer = 'takes';
    timers.at(-1)!.work();
    await settle();
    expect(stored().revision).toBe(1);
    expect(sheet.sendState.waiting).toBe(0);
  });

  it('takes back what the server refuses, and says its words', async () => {
    const { sheet, server } = makeBench();
    server.answer = 'refuses';
    sheet.change([hang]);
    await settle();
    expect(sheet.record.wires).toBeUndefined();
    expect(sheet.sendState).toEqual({ waiting: 0, reached: true, refused: 'record.wires.W1: no' });
    expect(sheet.canUndo).toBe(false);
  });

  it('refuses here what would not read, says where, and changes nothing', () => {
    const { sheet } = makeBench();
    const result = sheet.change([{ field: ['record', 'wires', 'W1'], value: { wasOn: 'nowhere' } }]);
    expect(result.ok === false && result.why).toContain('record.wires[0].wasOn');
    expect(sheet.record.wires).toBeUndefined();
    expect(sheet.sendState.waiting).toBe(0);
  });

  it('undoes an act by its inverse, back to the record it was', async () => {
    const { sheet, stored } = makeBench();
    const before = structuredClone(sheet.record);
    sheet.change([hang]);
    sheet.change([{ field: ['record', 'terminals', 'A', 'marking'], value: 'B' }, { field: ['record', 'wires', 'W1', 'colour'], value: 'BK' }]);
    sheet.undo();
    expect(sheet.record.wires![0]!.colour).toBe('RD');
    expect(sheet.record.terminals![0]!.marking).toBeUndefined();
    sheet.undo();
    await settle();
    expect(sheet.record).toEqual(before);
    expect(stored().record).toEqual(before);
    expect(sheet.canUndo).toBe(false);
  });

  it('undoes only its own field: a wire that another device hung meanwhile stays', async () => {
    const { sheet, stored } = makeBench();
    sheet.change([hang]);
    await settle();
    const other = stored();
    const document = applyEdit(other.document as unknown as Tree, { field: ['record', 'wires', 'W2'], value: { wasOn: 'A' } });
    sheet.takeState({ ...other, revision: other.revision + 1, document: document as unknown as JobDocument });
    sheet.undo();
    expect(sheet.record.wires!.map((wire) => wire.tag)).toEqual(['W2']);
  });

  it('lays what waits here over a newer state from another device', async () => {
    const { sheet, server } = makeBench();
    server.answer = 'unreachable';
    sheet.change([hang]);
    await settle();
    const other = start();
    sheet.takeState({ ...other, revision: 5, document: { ...other.document, machine: 'Trailer' } });
    expect(sheet.document.machine).toBe('Trailer');
    expect(sheet.record.wires).toHaveLength(1);
  });
});
