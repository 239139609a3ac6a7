import { describe, expect, it } from 'vitest';
import type { Part } from '../../catalog-schema/index.ts';
import { ShopParts } from './shop-parts.ts';

const settle = (): Promise<void> => new Promise((resolve) => { setTimeout(resolve, 0); });
const partOf = (id: string): Part => ({ id, partClass: 'start-relay', title: `Part ${id}`, terminals: [], circuit: [] });

function makeParts(there: string[]) {
  const asked: string[][] = [];
  const parts = new ShopParts({ parts: async (ids) => { asked.push([...ids]); return ids.filter((id) => there.includes(id)).map(partOf); } });
  let told = 0;
  parts.addEventListener('change', () => { told += 1; });
  parts.reset(there.length);
  return { parts, asked, told: () => told };
}

describe('the parts a screen reads', () => {
  it('come from the engine when first asked for, those of one drawing together, and then stay', async () => {
    const { parts, asked, told } = makeParts(['a', 'b']);
    expect([parts.get('a'), parts.get('b'), parts.get('a'), parts.isOnItsWay('a')]).toEqual([undefined, undefined, undefined, true]);
    await settle();
    expect([parts.get('a')?.title, parts.get('b')?.title, asked, told()]).toEqual(['Part a', 'Part b', [['a', 'b']], 2]);
  });

  it('are known to be missing after one question', async () => {
    const { parts, asked } = makeParts(['a']);
    expect(parts.has('z')).toBe(false);
    await settle();
    expect([parts.has('z'), parts.isOnItsWay('z'), asked]).toEqual([false, false, [['z']]]);
  });

  it('are there at once after they were fetched', async () => {
    const { parts, asked } = makeParts(['a', 'b', 'c']);
    parts.get('c');
    await parts.fetch(['a', 'b']);
    expect([parts.has('a'), parts.has('b'), parts.has('c'), asked]).toEqual([true, true, true, [['c', 'a', 'b']]]);
    await parts.fetch(['a']);
    expect(asked).toHaveLength(1);
  });

  it('are asked for anew once another catalogue has been opened', async () => {
    const { parts, asked } = makeParts(['a']);
    await parts.fetch(['a']);
    parts.reset(1);
    expect(parts.get('a')).toBeUndefined();
    await settle();
    expect([parts.has('a'), asked.length]).toEqual([true, 2]);
  });

  it('are asked for again after the engine failed', async () => {
    let fails = true;
    const parts = new ShopParts({ parts: async (ids) => { if (fails) throw new Error('no'); return ids.map(partOf); } });
    parts.reset(1);
    await expect(parts.fetch(['a'])).rejects.toThrow('no');
    fails = false;
    expect([parts.get('a'), parts.isOnItsWay('a')]).toEqual([undefined, true]);
    await settle();
    expect(parts.has('a')).toBe(true);
  });
});
