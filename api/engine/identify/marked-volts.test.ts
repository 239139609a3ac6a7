import { describe, expect, it } from 'vitest';
import { identifyAnswer, type BenchRecord, type IdentifyAnswer } from '../../../catalog-schema/index.ts';
import { identify } from './index.ts';

const terminals: BenchRecord['terminals'] = [{ id: 'B', form: 'stud' }, { id: 'M', form: 'stud' }, { id: 'S', form: 'tab' }, { id: 'I', form: 'tab' }];
const ask = (ohm: number, marked: BenchRecord['marked'], partClass: BenchRecord['partClass'] = 'start-relay'): IdentifyAnswer => identify({
  partClass, system: { nominalV: 12 }, benchC: 20, marked, terminals: terminals!.map((each) => (partClass === 'plug-in-relay' ? { ...each, form: 'pin' } : each)),
  ohms: [{ between: ['B', 'M'], ohm: 'open' }, { between: ['S', 'I'], ohm: { value: ohm, plusMinus: 0.02 * ohm } }],
});
const doubts = ({ cautions }: IdentifyAnswer): string[] => cautions.filter((line) => line.startsWith('Marked'));

// Joule: W = V^2 / R; what a start relay draws is common practice, no source: about 36 W (4 Ohm at 12 V).
describe('a marked coil voltage', () => {
  it('goes with the ohms that its power suits', () => {
    for (const [ohm, coilV] of [[4, 12], [16, 24], [1, 6], [3, 12], [6, 12]] as const) {
      expect(doubts(ask(ohm, { coilV })), `${coilV} V ${ohm} Ohm`).toEqual([]);
      expect(ask(ohm, { coilV }).conflicts).toEqual([]);
    }
  });

  it('is doubted where the ohms suit another much better, in watts at both', () => {
    const [line] = doubts(ask(4, { coilV: 24 }));
    expect(line).toBe('Marked 24 V, but the 4 Ohm between I and S draw 140 W there and suit 12 V (36 W) better: settle which is true before it is fed.');
    expect(doubts(ask(4, { coilV: 24 }))).toHaveLength(1);
    expect(ask(4, { coilV: 24 }).conflicts).toEqual([]);
  });

  it('and ohms that no coil has at that voltage are a conflict that names both', () => {
    for (const [ohm, coilV, partClass] of [[4, 240, 'start-relay'], [500, 12, 'plug-in-relay'], [2, 48, 'start-relay']] as const) {
      const answer = ask(ohm, { coilV }, partClass);
      expect(answer.conflicts, `${coilV} V ${ohm} Ohm`).toContainEqual(expect.objectContaining({ paths: ['marked.coilV', 'ohms[1]'] }));
      expect(doubts(answer)).toEqual([]);
      expect(identifyAnswer.safeParse(answer).error).toBeUndefined();
    }
  });

  it('is read from the text as well, where the text names one', () => {
    expect(doubts(ask(4, { text: 'COIL 24 V' }))).toHaveLength(1);
    expect(doubts(ask(4, { text: '24VDC CONT.' }))).toHaveLength(1);
    for (const text of ['12V', '12 V DC', 'SW24', '12/24 V', '24 V 12 V', '24 VA', '4V7 R', '0 V']) expect(doubts(ask(4, { text })), text).toEqual([]);
  });

  it('that the text denies is a conflict, with or without ohms', () => {
    expect(ask(4, { coilV: 12, text: '24V' }).conflicts).toEqual([{ paths: ['marked.coilV', 'marked.text'], why: 'one says 12 V, the other 24 V' }]);
    expect(identify({ system: { nominalV: 12 }, marked: { coilV: 12, text: '6 V' } }).conflicts).toHaveLength(1);
    expect(ask(4, { coilV: 12, text: '12V' }).conflicts).toEqual([]);
  });
});
