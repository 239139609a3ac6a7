import { FAULTS, type CrankFault } from '../../../catalog-schema/index.ts';
import { FAULT_SHARES } from './fault-table.ts';

/** Resistances of the cranking circuit that a fault can raise, in the order of the circuit. */
export type Place = 'plus-post' | 'battery-cable' | 'contact' | 'start-cable' | 'engine-ground' | 'frame-ground' | 'minus-post' | 'feed' | 'return' | 'coil' | 'starter';

/** One way in which a fault can be there. Ways of one fault share its probability. */
export interface Hypothesis {
  readonly fault: CrankFault;
  /** the resistance that is wrong, and whether nothing passes at all */
  readonly place?: Place;
  readonly open?: boolean;
  /** a joint that passes what a coil takes and no more */
  readonly faint?: boolean;
  /** a battery far below what a flat one has: it stood over winter, or something drew on it for weeks */
  readonly deep?: boolean;
  readonly share: number;
}

/** Of faults that pass some current or none: how many pass none (common practice, no source). */
const OPEN_OF_JOINTS = 0.3;
/** And how many pass little: only where a coil's current goes that way does it differ from none. */
const FAINT_OF_JOINTS = 0.12;
const ON_COILS_WAY: readonly Place[] = ['plus-post', 'minus-post', 'frame-ground', 'battery-cable'];
const OPEN_OF_CONTROLS = 0.7;
/** Of weak batteries: how many are far below flat (common practice, no source). */
const DEEP_OF_WEAK = 0.15;

const WAYS: Readonly<Record<CrankFault, readonly Omit<Hypothesis, 'fault'>[]>> = {
  'battery-weak': [{ share: 1 - DEEP_OF_WEAK }, { deep: true, share: DEEP_OF_WEAK }],
  'battery-connection': [...joint('plus-post', 0.5), ...joint('minus-post', 0.5)],
  'ground-connection': [...joint('frame-ground', 0.55), ...joint('engine-ground', 0.45)],
  'battery-cable': joint('battery-cable', 1),
  'start-cable': joint('start-cable', 1),
  'relay-contacts': [{ place: 'contact', share: 0.5 }, { place: 'contact', open: true, share: 0.5 }],
  'relay-coil-open': [{ place: 'coil', open: true, share: 1 }],
  'relay-stuck-closed': [{ share: 1 }],
  'coil-feed': [{ place: 'feed', share: 1 - OPEN_OF_CONTROLS }, { place: 'feed', open: true, share: OPEN_OF_CONTROLS }],
  'coil-return': [{ place: 'return', share: 1 - OPEN_OF_CONTROLS }, { place: 'return', open: true, share: OPEN_OF_CONTROLS }],
  'starter-open': [{ place: 'starter', share: 0.3 }, { place: 'starter', open: true, share: 0.7 }],
  'starter-dragging': [{ share: 1 }],
  'starter-drive': [{ share: 1 }],
  'engine-locked': [{ share: 1 }],
  none: [{ share: 1 }],
};

function joint(place: Place, share: number): Omit<Hypothesis, 'fault'>[] {
  const faint = ON_COILS_WAY.includes(place) ? FAINT_OF_JOINTS : 0;
  return [
    { place, share: share * (1 - OPEN_OF_JOINTS - faint) }, { place, open: true, share: share * OPEN_OF_JOINTS },
    ...(faint > 0 ? [{ place, faint: true, share: share * faint }] : []),
  ];
}

/** Every way of every fault with its share before anything was seen; the shares add up to 1. */
export function listHypotheses(shares: Readonly<Partial<Record<CrankFault, number>>> = {}): Hypothesis[] {
  const shareOf = (fault: CrankFault): number => shares[fault] ?? FAULT_SHARES[fault].share;
  const total = FAULTS.reduce((sum, fault) => sum + shareOf(fault), 0);
  return FAULTS.flatMap((fault) => WAYS[fault].map((way): Hypothesis => ({ ...way, fault, share: way.share * shareOf(fault) / total })));
}
