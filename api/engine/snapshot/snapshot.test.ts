import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { Catalogue, Part } from '../../../catalog-schema/index.ts';
import { readCataloguePath } from '../../../catalog-schema/folder/index.ts';
import { openSnapshot, type Snapshot } from './snapshot.ts';
import { writeSnapshot } from './snapshot-writer.ts';

const demo = readCataloguePath(fileURLToPath(new URL('../../../demo-catalog', import.meta.url)));
if (!demo.ok) throw new Error('the demo catalogue does not read');

function open(buffer: ArrayBuffer): Snapshot {
  const opened = openSnapshot(buffer);
  if (!opened.ok) throw new Error(opened.faults.map(({ found }) => found).join());
  return opened.value;
}

function expectAllBack(catalogue: Catalogue): void {
  const snapshot = open(writeSnapshot(catalogue));
  expect(snapshot.count).toBe(catalogue.length);
  for (const part of catalogue) {
    const back = snapshot.partAt(snapshot.rowOf(part.id)!);
    // As text too: keys in their order.
    if (JSON.stringify(back) !== JSON.stringify(part)) expect(back).toEqual(part);
    expect(JSON.stringify(back)).toBe(JSON.stringify(part));
  }
}

const bare: Part = { id: 'z', partClass: 'start-relay', title: '', terminals: [], circuit: [] };

describe('a snapshot of a catalogue', () => {
  it('gives back every part of the demo as it was', () => expectAllBack(demo.value));

  it('gives back what JSON can hold and programs forget: -0, lone surrogates, keys in another order', () => {
    const parts = JSON.parse(`[
      {"title":"\\ud800 \\u0000 \\u2028","id":"b","circuit":[],"terminals":[{"id":"1","form":"tab","at":{"yMm":-0,"xMm":1e-7}}],"partClass":"contactor"},
      {"id":"a\\ud83d\\ude00","partClass":"start-relay","title":"","inside":[],"numbers":[],"terminals":[],"circuit":[],"mounting":{"holes":[]}}]`) as Part[];
    const snapshot = open(writeSnapshot(parts));
    for (const part of parts) {
      const back = snapshot.partAt(snapshot.rowOf(part.id)!);
      expect(back).toStrictEqual(part);
      expect(Object.keys(back)).toEqual(Object.keys(part));
    }
  });

  it('is the same file for the same catalogue, and another for another', () => {
    const [first, second] = [writeSnapshot(demo.value), writeSnapshot(demo.value)];
    expect(open(first).hash).toBe(open(second).hash);
    expect(open(writeSnapshot(demo.value.slice(1))).hash).not.toBe(open(first).hash);
  });

  it('holds an empty catalogue', () => {
    const snapshot = open(writeSnapshot([]));
    expect(snapshot.count).toBe(0);
    expect(snapshot.rowOf('a')).toBeUndefined();
  });

  it('finds parts by id, by a number however written, and along supersessions', () => {
    const parts: Part[] = [
      { ...bare, id: 'old', supersededBy: ['new', 'kit'], numbers: [{ issuer: 'X', number: 'ab-12' }] },
      { ...bare, id: 'new', replaces: [{ issuer: 'X', number: 'AB 12' }] }, { ...bare, id: 'kit' }, { ...bare, id: 'other', partClass: 'starter-motor' },
    ];
    const snapshot = open(writeSnapshot(parts));
    const row = (id: string): number => snapshot.rowOf(id)!;
    expect(snapshot.rowsOfNumber('a b.12').map((each) => snapshot.idAt(each)).toSorted()).toEqual(['new', 'old']);
    expect(snapshot.rowsOfNumber('12')).toEqual([]);
    expect(snapshot.successorsOf(row('old')).map((each) => snapshot.idAt(each)).toSorted()).toEqual(['kit', 'new']);
    expect(snapshot.rowOf('nobody')).toBeUndefined();
    expect([...snapshot.rowsById].map((each) => snapshot.idAt(each))).toEqual(['kit', 'new', 'old', 'other']);
  });

  it('refuses, in words, what was cut short, damaged or written by another version', () => {
    const good = writeSnapshot(demo.value);
    const refusal = (buffer: ArrayBuffer): string => {
      const opened = openSnapshot(buffer);
      return opened.ok ? 'opened' : opened.faults.map(({ found, want }) => `${found}, want ${want}`).join();
    };
    const changed = (at: number): ArrayBuffer => {
      const copy = good.slice(0);
      new Uint8Array(copy)[at]! ^= 1;
      return copy;
    };
    expect(refusal(good)).toBe('opened');
    expect(refusal(new ArrayBuffer(0))).toMatch(/no snapshot/);
    expect(refusal(good.slice(0, 40))).toMatch(/no snapshot/);
    expect(refusal(good.slice(0, good.byteLength - 16))).toMatch(/cut short/);
    expect(refusal(changed(0))).toMatch(/no snapshot/);
    expect(refusal(changed(8))).toMatch(/version/);
    for (let at = 12; at < good.byteLength; at += 997) expect(refusal(changed(at)), `byte ${at}`).not.toBe('opened');
  });

  it('does not write a catalogue in which an id stands twice', () => {
    expect(() => writeSnapshot([bare, bare])).toThrow('used twice');
  });
});
