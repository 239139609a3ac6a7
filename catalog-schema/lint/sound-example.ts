import type { Part } from '../part.ts';
import type { LintData } from './lint-rule.ts';

/** A part without a fault, for tests to plant one in. */
export const soundPart: Part = {
  id: 'p', partClass: 'start-relay', title: 'start relay 12 V', numbers: [{ issuer: 'Quarrel', number: 'Q-1' }],
  terminals: [
    { id: 'B', form: 'stud', thread: 'M8x1.25', marking: '30', at: { xMm: -20, yMm: 0 } }, { id: 'M', form: 'stud', thread: 'M8', marking: '45', at: { xMm: 20, yMm: 0 } },
    { id: 'S', form: 'tab', tabWidthMm: 6.3, tabThicknessMm: 0.8, marking: '50', at: { xMm: 0, yMm: 10 } },
  ],
  circuit: [
    { kind: 'coil', id: 'c', between: ['S', 'case'], nominalV: 12, ohmAt20C: 4, pullInV: 7, dropOutV: 1 },
    { kind: 'contact', id: 'k', between: ['B', 'M'], form: 'NO', coils: ['c'], continuousA: 100, inrushA: 400 },
  ],
  mounting: { holes: [{ xMm: -25, yMm: 0, diameterMm: 6.5 }, { xMm: 25, yMm: 0, diameterMm: 6.5, slotMm: 6, slotAngleDeg: 90 }] },
  body: { lengthMm: 60, widthMm: 40, heightMm: 45 }, sealing: 'IP67',
};

/** Two sound parts, the second superseded by the first, and a shop that sells both. */
export const soundData: LintData = {
  parts: [soundPart, { ...soundPart, id: 'old', title: 'start relay 12 V, old', numbers: [{ issuer: 'Quarrel', number: 'Q-0' }], supersededBy: ['p'] }],
  shop: {
    shelf: [{ partId: 'p', onHand: 1, unitCost: 8 }], suppliers: [{ id: 's', freight: 5 }],
    offers: [{ supplierId: 's', partId: 'p', price: 10, leadDays: 2, breaks: [{ minQty: 5, price: 9 }, { minQty: 10, price: 8 }] }],
  },
};

/** The sound data with one more part: the sound one with a planted fault. */
export function plantPart(fault: Partial<Part>): LintData {
  const planted: Part = { ...soundPart, id: 'bad', title: 'a planted fault', numbers: [{ issuer: 'Quarrel', number: 'Q-9' }], ...fault };
  return { ...soundData, parts: [...soundData.parts, planted] };
}
