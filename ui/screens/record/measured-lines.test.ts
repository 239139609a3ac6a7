import { describe, expect, it } from 'vitest';
import { listMeasured } from './measured-lines.ts';

describe('what was measured, for somebody who was not there', () => {
  it('is nothing on a blank record', () => {
    expect(listMeasured({ system: { nominalV: 12 }, terminals: [{ id: 'A', form: 'stud' }] }, 'mm')).toEqual([]);
  });

  it('names terminals, ohms with the state of the plunger, amps and volts, in the unit of the settings', () => {
    const lines = listMeasured({
      system: { nominalV: 12, lowestRestingV: 12.1 },
      terminals: [{ id: 'A', form: 'stud', majorDiameterMm: 7.9375, pitchMm: { value: 1.058, plusMinus: 0.08 } }],
      ohms: [{ between: ['A', 'case'], ohm: 'open', pulledIn: true }], demand: { inrushA: 260 },
    }, 'inch');
    expect(lines).toEqual([
      { what: 'Stud A', figure: 'outside diameter 0.3125 in (5/16), pitch 1.06 ± 0.08 mm' },
      { what: 'Between A and the case, held in', figure: 'open' },
      { what: 'Inrush through the contact', figure: '260 A' },
      { what: 'Lowest volts at rest', figure: '12.1 V' },
    ]);
  });
});
