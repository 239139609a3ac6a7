import { describe, expect, it } from 'vitest';
import { findAnswer, type Catalogue, type Part } from '../../../catalog-schema/index.ts';
import { openSnapshot, writeSnapshot } from '../snapshot/index.ts';
import { find, Finder } from './index.ts';

const part = (id: string, number: string, more: Partial<Part> = {}): Part => ({
  id, partClass: 'start-relay', title: 'Start relay, isolated coil, 12 V', numbers: [{ issuer: 'Works', number }], terminals: [], circuit: [], ...more,
});
const catalogue: Catalogue = [
  part('a', 'SR-0012-B'), part('b', 'SR-0112-B'), part('c', 'KX 77.341', { title: 'Contactor, continuous duty, 24 V', partClass: 'contactor' }),
  part('old', 'SR-0900', { supersededBy: ['mid', 'plate'] }), part('mid', 'SR-0901', { supersededBy: ['new'] }), part('new', 'SR-0902'), part('plate', 'SR-0903'),
  part('claim', 'ZZ-9', { replaces: [{ issuer: 'Works', number: 'SR-0012-B', source: 'a list' }] }),
];
const hitsOfIn = (text: string, parts: Catalogue): string[] => find(text, parts).hits.map(({ partId, how }) => `${partId} ${how}`);
const hitsOf = (text: string): string[] => hitsOfIn(text, catalogue);

describe('find', () => {
  it('finds a number as it is written, then who claims to replace it', () => {
    expect(hitsOf('SR-0012-B').slice(0, 2)).toEqual(['a same', 'claim replaces']);
  });

  it('lists what is near a number that is there too, below it: a misread number may be another that exists', () => {
    expect(hitsOf('SR-0012-B').slice(2)).toEqual(['b similar']);
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
    expect(hits[0]).toMatchObject({ partId: 'a', how: 'similar', changes: [{ kind: 'other', read: '3', is: '2' }] });
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

  it.each([
    ['SR-OOl2-8', 'a', [['confused', 'O', '0'], ['confused', 'O', '0'], ['confused', 'L', '1'], ['confused', '8', 'B']]],
    ['SR-0102-B', 'a', [['swapped', '10', '01']]],
    ['SR-012-B', 'a', [['lost', '', '0']]],
    ['SR-00122-B', 'a', [['added', '2', '']]],
    ['5R-0021-B', 'a', [['confused', '5', 'S'], ['swapped', '21', '12']]],
    ['kx 7734l1', 'c', [['added', 'L', '']]],
  ])('takes %s for a likely misreading, and says of what', (text, partId, changes) => {
    const [hit] = find(text, catalogue).hits;
    expect(hit).toMatchObject({ partId, how: 'likely-misread' });
    expect(hit!.changes!.map(({ kind, read, is }) => [kind, read, is])).toEqual(changes);
  });

  it('does not take two lost characters, or one that looks like no other, for a likely misreading', () => {
    expect(hitsOf('KX 77.3')).toContain('c similar');
    expect(hitsOf('KX 97.341')).toContain('c similar');
  });

  it('reads numbers of one and two characters as they look', () => {
    const short = [part('one', 'B'), part('two', 'Z7'), part('three', '77')];
    expect(hitsOfIn('8', short)).toEqual(['one likely-misread']);
    expect(hitsOfIn('27', short)).toEqual(['two likely-misread']);
    expect(hitsOfIn('7Z', short)).toEqual(['two likely-misread']);
  });

  it('finds a number by a part of it, and by a text that holds it', () => {
    expect(hitsOf('7341')[0]).toBe('c similar');
    expect(hitsOf('0901')[0]).toBe('mid similar');
    expect(hitsOf('MADE IN BATCH 4711 KX77341 REV 2')).toContain('c similar');
  });

  it('finds numbers that exist as a claim alone, also misread, and marks them', () => {
    const claimed = [part('x', 'AA-100', { replaces: [{ issuer: 'Gone', number: 'DEAD-500', source: 'list 7' }, { issuer: 'Gone', number: 'DEAD-501' }] })];
    expect(find('dead 500', claimed).hits).toEqual([{ partId: 'x', number: 'DEAD-500', issuer: 'Gone', how: 'replaces', score: 0.9, currentIds: ['x'], claim: { source: 'list 7' } }]);
    expect(find('DEAD501', claimed).hits[0]!.claim).toEqual({});
    expect(find('DEAD-5O0', claimed).hits[0]).toMatchObject({ how: 'likely-misread', claim: { source: 'list 7' } });
    expect(find('DEAD-5O0', claimed).cautions[0]).toContain('somebody\'s word');
  });

  it('lists a part once, by the best of its numbers', () => {
    const twice = [part('x', 'AB-1', { numbers: [{ issuer: 'A', number: 'AB-1' }, { issuer: 'B', number: 'AB1' }], replaces: [{ issuer: 'A', number: 'AB-1' }] })];
    expect(find('AB1', twice).hits.map(({ issuer, how }) => [issuer, how])).toEqual([['B', 'same']]);
  });

  it('knows a part by its id, written in any way, and near ones by it where it has no number', () => {
    const named = [part('relay-77b', 'Q-1'), part('old-relay-9', '', { numbers: [] })];
    expect(find('relay-77b', named).hits[0]).toMatchObject({ partId: 'relay-77b', how: 'same', issuer: '' });
    expect(find('RELAY 77B', named).hits[0]).toMatchObject({ partId: 'relay-77b', how: 'normalised' });
    expect(find('OLDRELAYS', named).hits[0]).toMatchObject({ partId: 'old-relay-9', number: 'old-relay-9', how: 'similar' });
  });

  describe('what the shop found', () => {
    const parts = [part('p1', 'N1000'), part('p2', 'N2000', { replaces: [{ issuer: 'X', number: 'OLD77' }] }), part('p3', 'N3000', { replaces: [{ issuer: 'X', number: 'OLD77' }] })];

    it('lifts a claim that held here and lowers one that came back, with its evidence', () => {
      const { hits } = find('old-77', parts, [{ partId: 'p3', number: 'OLD 77', held: 4, cameBack: 0 }, { partId: 'p2', number: 'OLD77', held: 0, cameBack: 2 }]);
      expect(hits.map(({ partId, shop }) => [partId, shop])).toEqual([['p3', { held: 4, cameBack: 0, forNumber: true }], ['p2', { held: 0, cameBack: 2, forNumber: true }]]);
      expect(hits[0]!.score).toBeGreaterThan(0.9);
      expect(hits[1]!.score).toBeLessThan(0.9);
    });

    it('finds a part that held in place of a number though nobody claims it', () => {
      const { hits } = find('OLD77', parts, [{ partId: 'p1', number: 'OLD77', held: 2, cameBack: 0 }]);
      expect(hits.map(({ partId, how, claim }) => [partId, how, claim !== undefined])).toEqual([['p1', 'replaces', false], ['p2', 'replaces', true], ['p3', 'replaces', true]]);
      expect(find('OLD77', parts, [{ partId: 'p1', number: 'OLD77', held: 0, cameBack: 2 }]).hits.map(({ partId }) => partId)).toEqual(['p2', 'p3']);
    });

    it('never stands above the number itself', () => {
      const own = [...parts, part('p4', 'OLD77')];
      expect(find('OLD77', own, [{ partId: 'p1', number: 'OLD77', held: 1e6, cameBack: 0 }]).hits[0]).toMatchObject({ partId: 'p4', how: 'same' });
    });
  });

  describe('supersession', () => {
    it('reports a circle, and names the part itself where no end is found', () => {
      const round = [part('r1', 'R1111', { supersededBy: ['r2'] }), part('r2', 'R2222', { supersededBy: ['r1'] })];
      const { hits: [hit], cautions } = find('R1111', round);
      expect(hit!.currentIds).toEqual(['r1']);
      expect(cautions.some((line) => line.includes('r1, r2') && line.includes('circle'))).toBe(true);
    });

    it('says which successor the catalogue does not have', () => {
      const { hits: [hit], cautions } = find('G1111', [part('g', 'G1111', { supersededBy: ['gone'] })]);
      expect(hit!.currentIds).toEqual(['g']);
      expect(cautions.some((line) => line.includes('"gone"'))).toBe(true);
    });

    it('names a part once that two lines lead to, and follows a line as long as the catalogue', () => {
      const fork = [part('f', 'F0001', { supersededBy: ['l', 'r'] }), part('l', 'F2', { supersededBy: ['z'] }), part('r', 'F3', { supersededBy: ['z'] }), part('z', 'F4')];
      expect(find('F0001', fork).hits[0]!.currentIds).toEqual(['z']);
      const line = Array.from({ length: 5_000 }, (_, at) => part(`c${at}`, `C${at}`, at < 4_999 ? { supersededBy: [`c${at + 1}`] } : {}));
      expect(find('C0', line).hits[0]!.currentIds).toEqual(['c4999']);
    });
  });

  describe('trade item numbers', () => {
    // Numbers of GS1 itself: 6291041500213 stands in the example of gs1.org for the check digit.
    const coded = [part('g13', '6291041500213'), part('g12', '012345678905')];

    it('says when the check digit of what was scanned is wrong, and what it would be', () => {
      expect(find('6291041500214', coded).cautions.some((line) => line.includes('GTIN-13') && line.includes('comes 3, not 4'))).toBe(true);
      expect(find('6291041500213', coded).cautions).toEqual([]);
    });

    it('knows one with other zeros before it, and inside a scanned code', () => {
      expect(find('0012345678905', coded).hits[0]).toMatchObject({ partId: 'g12', how: 'normalised' });
      expect(find('(01)06291041500213(17)270101', coded).hits[0]).toMatchObject({ partId: 'g13', how: 'normalised' });
      expect(find(']C1010629104150021310ABC', coded).hits[0]).toMatchObject({ partId: 'g13', how: 'normalised' });
    });
  });

  describe('odd text', () => {
    it.each([
      ['full-width characters', '\uFF33\uFF32\uFF0D\uFF10\uFF10\uFF11\uFF12\uFF0D\uFF22', 'a normalised'], ['a NUL between', 'SR\0-0012-B', 'a normalised'], ['odd separators', 'SR\u2011\u00A00012\u2014B', 'a normalised'],
      ['slashes', 'SR/0012/B', 'a normalised'], ['blanks around', '\t SR-0012-B \n', 'a same'],
    ])('reads %s', (_, text, first) => {
      expect(hitsOf(text)[0]).toBe(first);
    });

    it.each(['', ' ', '\0', '-', '\uD800', '\u{1F600}', '...'])('finds nothing in %j', (text) => {
      expect(find(text, catalogue).hits).toEqual([]);
    });

    it('takes one character and 2,000 of them', () => {
      for (const text of ['S', '0', 'x'.repeat(2_000), 'SR-0012-B '.repeat(200), '\uFDFA'.repeat(2_000), 'relay '.repeat(300)]) {
        expect(findAnswer.safeParse(find(text, catalogue)).error).toBeUndefined();
      }
    });

    it('keeps apart numbers in scripts that share a code', () => {
      const scripts = [part('cyr', '\u0416-100'), part('han', '\u7535-100')];
      expect(find('\u0436100', scripts).hits[0]).toMatchObject({ partId: 'cyr', how: 'normalised' });
    });

    it('finds in an empty catalogue nothing, and a number among thousands of its like', () => {
      expect(find('SR-1', [])).toEqual({ hits: [], cautions: [], assumptions: [] });
      const same = Array.from({ length: 3_000 }, (_, at) => part(`n${String(at).padStart(4, '0')}`, 'N/A'));
      expect(find('n a', same).hits.map(({ partId }) => partId).slice(0, 2)).toEqual(['n0000', 'n0001']);
      expect(find('N/B', same).hits.length).toBeLessThanOrEqual(50);
    });
  });

  it('finds words that are spelled nearly so', () => {
    expect(hitsOf('contctor 24 V')).toEqual(['c words']);
    expect(hitsOf('contactor 24V')).toEqual(['c words']);
  });

  it('answers the same from a snapshot of the catalogue', () => {
    const opened = openSnapshot(writeSnapshot(catalogue));
    if (!opened.ok) throw new Error('the snapshot does not open');
    const finder = new Finder(opened.value);
    for (const text of ['SR-0012-B', 'SR-OO12-B', 'sr 0900', 'contactor', 'ZZ9', 'KX 97.341']) expect(finder.find(text)).toEqual(find(text, catalogue));
  });
});
