import type { ProveAnswer } from './answer.ts';
import type { CrankFault, CrankNode, Observation } from './prove-case.ts';

/** Each fault as a sentence says it: "Proven: the main contacts of the relay are burnt." */
export const FAULT_CLAUSES: Readonly<Record<CrankFault, string>> = {
  'battery-weak': 'the battery is weak or flat',
  'battery-connection': 'a post and its clamp at the battery do not join well',
  'ground-connection': 'the ground from battery to chassis to starter does not join well',
  'battery-cable': 'the battery cable loses the volts',
  'start-cable': 'the cable from relay to starter loses the volts',
  'relay-contacts': 'the main contacts of the relay do not carry',
  'relay-coil-open': 'the coil of the relay is open',
  'relay-stuck-closed': 'the main contacts of the relay are stuck closed',
  'coil-feed': 'the coil is not fed: start switch, fuse or a switch on the way',
  'coil-return': 'the return of the coil is open: its ground or a safety switch',
  'starter-open': 'the starter is open inside',
  'starter-dragging': 'the starter drags',
  'starter-drive': 'the drive of the starter does not engage',
  'engine-locked': 'the engine does not turn',
  none: 'it cranks as it should',
};

/** Each fault by the name of what failed, for a list. */
export const FAULT_NAMES: Readonly<Record<CrankFault, string>> = {
  'battery-weak': 'Battery weak or flat', 'battery-connection': 'Post and clamp', 'ground-connection': 'Ground', 'battery-cable': 'Battery cable',
  'start-cable': 'Starter cable', 'relay-contacts': 'Relay contacts', 'relay-coil-open': 'Relay coil open', 'relay-stuck-closed': 'Relay stuck closed',
  'coil-feed': 'Coil feed', 'coil-return': 'Coil return', 'starter-open': 'Starter open', 'starter-dragging': 'Starter drags',
  'starter-drive': 'Starter drive', 'engine-locked': 'Engine locked', none: 'Nothing wrong',
};

/** Each point of the circuit as a person is told to touch it. */
export const CRANK_NODE_NAMES: Readonly<Record<CrankNode, string>> = {
  'battery+': 'plus post', 'battery-': 'minus post', 'battery+clamp': 'plus clamp', 'battery-clamp': 'minus clamp',
  'relay-battery-stud': 'relay’s battery stud', 'relay-starter-stud': 'relay’s starter stud', 'coil-feed': 'coil feed', 'coil-return': 'coil return',
  'starter-stud': 'starter stud', 'starter-case': 'starter case', chassis: 'chassis',
};

export const HEARD_WORDS = { nothing: 'silence', 'one-click': 'one click', 'rapid-clicks': 'rapid clicks', hum: 'a hum', grinding: 'grinding' } as const satisfies Record<Extract<Observation, { kind: 'sound' }>['heard'], string>;
export const CRANK_WORDS = { nothing: 'does not turn', slow: 'turns slowly', normal: 'turns as it should', 'spins-without-engaging': 'starter spins, engine still' } as const satisfies Record<Extract<Observation, { kind: 'crank' }>['seen'], string>;
export const BRIDGED_WORDS = { nothing: 'nothing', slow: 'turns slowly', normal: 'turns as it should', 'spark-only': 'sparks, does not turn' } as const satisfies Record<Extract<Observation, { kind: 'bridge-studs' }>['seen'], string>;
export const BY_HAND_WORDS = { free: 'free', stiff: 'stiff', locked: 'locked' } as const satisfies Record<Extract<Observation, { kind: 'turn-by-hand' }>['seen'], string>;

/** The name of what the evidence can pay for. */
export const ORDERABLE_WORDS = { 'start-relay': 'the relay', starter: 'the starter', battery: 'the battery', cable: 'the cable' } as const satisfies Record<NonNullable<ProveAnswer['orderable']>, string>;

/** What was done, and what it showed, for somebody who was not there. */
export function sayObservation(seen: Observation): { readonly what: string; readonly showed: string } {
  const at = (on: boolean | undefined): string => (on === false ? 'start switch off' : 'START held');
  const figure = (value: Extract<Observation, { kind: 'volts' }>['volts'], unit: string): string =>
    (typeof value === 'number' ? `${sayNumber(value)} ${unit}` : `${sayNumber(value.value)} ± ${sayNumber(value.plusMinus)} ${unit}`);
  switch (seen.kind) {
    case 'sound': return { what: `Heard, ${at(seen.startSwitch)}`, showed: HEARD_WORDS[seen.heard] };
    case 'crank': return { what: `Engine, ${at(seen.startSwitch)}`, showed: CRANK_WORDS[seen.seen] };
    case 'volts': return { what: `Volts, ${CRANK_NODE_NAMES[seen.plus]} to ${CRANK_NODE_NAMES[seen.minus]}, ${at(seen.startSwitch)}`, showed: figure(seen.volts, 'V') };
    case 'amps': return { what: 'Amps in the battery cable, START held', showed: figure(seen.amps, 'A') };
    case 'bridge-studs': return { what: 'Heavy studs bridged, start switch off', showed: BRIDGED_WORDS[seen.seen] };
    case 'turn-by-hand': return { what: 'Engine turned by hand', showed: BY_HAND_WORDS[seen.seen] };
    case 'battery-load': return { what: `Battery under ${sayNumber(seen.ratioOfCca)} × CCA for ${sayNumber(seen.seconds)} s`, showed: figure(seen.volts, 'V') };
  }
}

function sayNumber(value: number): string { return String(Number(value.toPrecision(4))).replace('-', '\u2212'); }
