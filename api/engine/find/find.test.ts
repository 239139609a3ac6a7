import { describe, expect, it } from 'vitest';
import { findAnswer, type Catalogue, type Part } from '../../../catalog-schema/index.ts';
import { find } from './index.ts';

const part = (id: string, number: string, more: Partial<Part> = {}): Part => ({
  id, partClass: 'start-relay', title: 'Start relay, isolated coil, 12 V', numbers: [{ issuer: 'Works', number }], terminals: [], circuit: [], ...more,
});
const catalogue: Catalogue = [
  part('a', 'SR-0012-B'), part('b', 'SR-0112-B'), part('c', 'KX 77.341', { title: 'Contactor, continuous duty, 24 V', partClass: 'contactor' }),
  part('old', 'SR-0900', { supersededBy: ['mid', 'plate'] }), part('mid', 'SR-0901', { supersededBy: ['new'] }), part('new', 'SR-0902'), part('plate', 'SR-0903'),
  part('claim', 'ZZ-9', { replaces: [{ issuer: 'Works', number: 'SR-0012-B', source: 'a list' }] }),
];
const hitsOf = (text: string): string[] => find(text, catalogue).hits.map(({ partId, how }) => `${partId} ${how}`);

describe('find', () => {
  it('finds a number as it is written, then who claims to replace it', () => {
    expect(hitsOf('SR-0012-B')).toEqual(['a same', 'claim replaces']);
  });

  it('does not mind case, separators and blanks, and keeps leading zeros', () => {
    expect(hitsOf(' sr 0012/b ')[0]).toBe('a normalised');
    expect(hitsOf('kx77341')).toEqual(['c normalised']);
    expect(hitsOf('SR-12-B')).not.toContain('a normalised');
  });

  it('says that a claim is a claim', () => {
    expect(find('SR-0012-B', catalogue).cautions).toHaveLength(1);
  });

  it('follows supersession to the parts in force, all of a kit', () => {
    expect(find('SR-0900', catalogue).hits[0]!.currentIds).toEqual(['new', 'plate']);
    expect(find('SR-0902', catalogue).hits[0]!.currentIds).toEqual(['new']);
  });

  it('lists near numbers where none is the same, most alike first', () => {
    const hits = find('SR-0013-B', catalogue).hits;
    expect(hits[0]).toMatchObject({ partId: 'a', how: 'similar' });
    expect(hits.every(({ score }, i) => i === 0 || score <= hits[i - 1]!.score)).toBe(true);
  });

  it('finds words of a title and class', () => {
    expect(hitsOf('contactor 24 V')).toEqual(['c words']);
    expect(hitsOf('start relay 12 V')).toHaveLength(7);
  });

  it('finds nothing in nothing', () => {
    expect(hitsOf('  - ')).toEqual([]);
    expect(hitsOf('no such thing anywhere')).toEqual([]);
  });

  it('does not depend on the order of the catalogue, and answers in the contract\'s shape', () => {
    for (const text of ['SR-0012-B', 'SR-0013-B', 'start relay']) {
      expect(find(text, [...catalogue].toReversed())).toEqual(find(text, catalogue));
      expect(findAnswer.safeParse(find(text, catalogue)).error).toBeUndefined();
    }
  });
});
