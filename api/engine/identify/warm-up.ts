import type { BenchRecord } from '../../../catalog-schema/index.ts';
import { identify } from './identify.ts';

/** Little of everything: pins whose roles are open, a stud and a tab to be measured, the two windings of a solenoid. */
const RECORDS: readonly BenchRecord[] = [
  { system: { nominalV: 12 }, terminals: ['A', 'B', 'C', 'D', 'E'].map((id) => ({ id, form: 'pin' })), ohms: [{ between: ['A', 'B'], ohm: 85 }, { between: ['C', 'D'], ohm: 'open' }] },
  {
    system: { nominalV: 12 }, terminals: [{ id: 'A', form: 'stud', majorDiameterMm: 7.85 }, { id: 'B', form: 'stud' }, { id: 'S', form: 'tab', tabWidthMm: 6.3 }],
    ohms: [{ between: ['A', 'S'], ohm: 0.4 }, { between: ['A', 'case'], ohm: 1.5 }, { between: ['S', 'case'], ohm: 1.1 }],
  },
];

/** Answers a few records for nobody, so that the first answer somebody waits for takes no longer than the others. */
export function warmUpIdentify(): void {
  for (const record of RECORDS) identify(record);
}
