import { describe, expect, it } from 'vitest';
import { applyEdit, type JobPhotograph } from '../../../catalog-schema/index.ts';
import { markId, moveMark, putMark, type Tool } from './mark-changes.ts';

const hash = 'a'.repeat(64);
const bare: JobPhotograph = { name: 'p', at: '2026-03-01T09:30:00Z', widthPx: 100, heightPx: 100 };
const mark = (xPx: number) => ({ xPx, yPx: 1, noisePx: 1 });

/** Puts one mark after the other, each with its tool, as the screen does. */
function putAll(tools: readonly (Tool | 'next')[], missed: readonly string[] = [], start = bare) {
  let tree: Record<string, never> = { photographs: { [hash]: start } } as never;
  let openKey: string | undefined;
  let n = 0;
  const at = () => (tree['photographs'] as unknown as Record<string, JobPhotograph>)[hash]!;
  for (const [k, tool] of tools.entries()) {
    if (tool === 'next') { openKey = undefined; continue; }
    const { changes, key } = putMark({ hash, photograph: at(), tool, mark: mark(k), openKey, missed, newKey: () => `k${n += 1}` });
    for (const change of changes) tree = applyEdit(tree, { field: [...change.field], value: change.value }) as never;
    openKey = key;
  }
  return at();
}
const places = (entries: Record<string, { marks: { xPx: number }[] }> | undefined) => Object.fromEntries(Object.entries(entries ?? {}).map(([key, { marks }]) => [key, marks.map(({ xPx }) => xPx)]));
const edges: Tool = { kind: 'edges' };

describe('one mark after another', () => {
  it('makes four edges of two marks each, and no more', () => {
    expect(places(putAll(Array.from({ length: 9 }, () => edges)).edges)).toEqual({ k1: [0, 1], k2: [2, 3], k3: [4, 5], k4: [6, 7] });
  });

  it('begins anew the edge that the picture does not show', () => {
    const four = putAll(Array.from({ length: 8 }, () => edges));
    expect(places(putAll([edges, edges], ['k3'], four).edges)).toEqual({ k1: [0, 1], k2: [2, 3], k3: [0, 1], k4: [6, 7] });
  });

  it('makes a hole of each mark in its middle, and of each two across', () => {
    expect(places(putAll([{ kind: 'hole', by: 'middle' }, { kind: 'hole', by: 'middle' }]).things)).toEqual({ k1: [0], k2: [1] });
    expect(places(putAll(Array.from({ length: 3 }, (): Tool => ({ kind: 'hole', by: 'across' }))).things)).toEqual({ k1: [0, 1], k2: [2] });
  });

  it('goes on around a rim until the next hole is asked for, up to twelve marks', () => {
    const rim: Tool = { kind: 'hole', by: 'rim' };
    expect(places(putAll([rim, rim, rim, rim, 'next', rim]).things)).toEqual({ k1: [0, 1, 2, 3], k2: [5] });
    expect(Object.values(places(putAll(Array.from({ length: 13 }, () => rim)).things)).map((marks) => marks.length)).toEqual([12, 1]);
  });

  it('takes no mark of another tool into what was begun', () => {
    const things = putAll([{ kind: 'hole', by: 'across' }, { kind: 'length' }, { kind: 'hole', by: 'rim' }]).things!;
    expect(Object.values(things).map(({ what, by }) => `${what} ${by}`)).toEqual(['hole across', 'length across', 'hole rim']);
  });

  it('keeps one place for each terminal: marked again, it begins anew', () => {
    const b: Tool = { kind: 'terminal', by: 'across', id: 'B' };
    const things = putAll([b, b, b]).things!;
    expect(things).toEqual({ 'terminal B': { what: 'terminal', terminal: 'B', by: 'across', marks: [mark(2)] } });
  });

  it('stops at forty things', () => {
    expect(Object.keys(putAll(Array.from({ length: 45 }, (): Tool => ({ kind: 'hole', by: 'middle' }))).things!)).toHaveLength(40);
  });
});

describe('a mark that is moved', () => {
  const marked = putAll([edges, edges, { kind: 'hole', by: 'middle' }]);
  it('changes its own place only', () => {
    expect(moveMark(hash, marked, markId('edges', 'k1', 1), mark(9))).toEqual([{ field: ['photographs', hash, 'edges', 'k1', 'marks'], value: [mark(0), mark(9)] }]);
  });
  it('changes nothing once it is gone', () => {
    expect(moveMark(hash, marked, markId('things', 'gone', 0), mark(9))).toEqual([]);
    expect(moveMark(hash, marked, markId('edges', 'k1', 2), mark(9))).toEqual([]);
  });
});
