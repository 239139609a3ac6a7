import type { Draws } from './random.ts';
import { readByMeter, readBySupply, type Network } from './network.ts';

// The world of the simulated parts: every form of part as a little network of its own, with ohms, contacts and diodes drawn wider than
// the product believes, and a meter and a supply that are a little worse than they claim (all of it common practice, no source).

/** Forms of the contract with how often each is drawn. Not the shares of a real shelf: every form is to be met often. */
const FORM_SHARES = {
  'case-return': 0.17, isolated: 0.16, 'isolated-diode': 0.11, 'isolated-resistor': 0.08, 'cranking-feed': 0.13,
  'shift-solenoid': 0.12, changeover: 0.1, 'changeover-diode': 0.08, 'changeover-resistor': 0.05,
} as const;
export type Form = keyof typeof FORM_SHARES;
export const FORMS = Object.keys(FORM_SHARES) as Form[];

/** A resistor across a coil cannot be told from a coil of a little less resistance: one group with the plain coil. */
export function groupOf(form: string): string {
  return form.endsWith('-resistor') ? form.slice(0, -'-resistor'.length) : form;
}

export type Instrument = 'meter' | 'supply';
export interface Probe { readonly plus: string; readonly minus: string; readonly pulledIn: boolean; readonly by: Instrument }
export interface Reading { readonly probe: Probe; readonly ohm: number | 'open' | { value: number; plusMinus: number } }

export interface SimulatedPart {
  readonly form: Form;
  readonly partClass: 'start-relay' | 'contactor' | 'plug-in-relay' | 'shift-solenoid';
  readonly nominalV: number;
  readonly benchC: number;
  readonly terminals: readonly { id: string; form: 'stud' | 'tab' | 'screw' | 'pin'; majorDiameterMm?: number }[];
  /** terminals and the case, as they can be touched */
  readonly points: readonly string[];
  readonly rest: Network;
  readonly heldIn: Network;
  readonly supplyV: number;
  readonly limitA: number;
  readonly meterOffOhm: number;
  /** readings are written bare, without their half-width */
  readonly bare: boolean;
}

/** Copper, IEC 60028: per kelvin at 20 C. */
const COPPER_PER_K = 0.00393;
const METER = { sigma: 0.018, sigmaOhm: 0.05, claimed: 0.03, claimedOhm: 0.2 };
const SUPPLY = { sigma: 0.018, sigmaOhm: 0.004, claimed: 0.03, claimedOhm: 0.03 };

type Role = 'heavy' | 'small';
const ROLES: Readonly<Record<string, Readonly<Record<string, Role>>>> = {
  'case-return': { b: 'heavy', m: 'heavy', s: 'small' },
  isolated: { b: 'heavy', m: 'heavy', p: 'small', n: 'small' },
  'cranking-feed': { b: 'heavy', m: 'heavy', s: 'small', i: 'small' },
  'shift-solenoid': { b: 'heavy', m: 'heavy', s: 'small' },
  changeover: { common: 'small', no: 'small', nc: 'small', p: 'small', n: 'small' },
};

export function drawPart(draws: Draws, form: Form = draws.pick(FORMS, (each) => FORM_SHARES[each])): SimulatedPart {
  const base = form.startsWith('isolated') ? 'isolated' : form.startsWith('changeover') ? 'changeover' : form;
  const partClass = form === 'shift-solenoid' ? 'shift-solenoid' : base === 'changeover' ? 'plug-in-relay'
    : draws.pick(base === 'isolated' ? ['start-relay', 'contactor', 'plug-in-relay'] as const : ['start-relay', 'contactor'] as const);
  const nominalV = draws.pick([12, 24, 6], (volts) => (volts === 12 ? 0.76 : volts === 24 ? 0.16 : 0.08));
  const benchC = Math.round(draws.between(-5, 45));
  const warm = 1 + COPPER_PER_K * (benchC - 20);
  const watts = { 'start-relay': 40, contactor: 15, 'plug-in-relay': 1.9, 'shift-solenoid': 110 }[partClass] * Math.exp(0.5 * draws.normal());
  const coil = warm * nominalV * nominalV / watts;
  const pullIn = coil * draws.between(0.22, 0.5);
  const closed = draws.chance(0.04) ? draws.between(0.05, 0.25) : draws.logBetween(0.0005, 0.03);

  const names = draws.shuffle(['A', 'B', 'C', 'D', 'E']);
  const roles = ROLES[base]!;
  const at: Record<string, string> = { case: 'case', ...Object.fromEntries(Object.keys(roles).map((role, i) => [role, names[i]!])) };
  const link = (a: string, b: string, ohm: number) => ({ a: at[a]!, b: at[b]!, ohm });
  const windings = base === 'case-return' || base === 'cranking-feed' ? [link('s', 'case', coil)]
    : form === 'shift-solenoid' ? [link('s', 'case', coil), link('s', 'm', pullIn)] : [link('p', 'n', coil)];
  if (form.endsWith('-resistor')) windings.push(link('p', 'n', coil * draws.logBetween(4, 25)));
  const oneWays = form.endsWith('-diode') ? [{ from: at['n']!, to: at['p']!, volts: draws.between(0.6, 0.8), ohm: draws.between(0.005, 0.03) }] : [];
  const heldInContacts = base === 'changeover' ? [link('common', 'no', closed)]
    : form === 'cranking-feed' ? [link('b', 'm', closed), link('b', 'i', closed * draws.between(1, 3))] : [link('b', 'm', closed)];
  const restContacts = base === 'changeover' ? [link('common', 'nc', closed)] : [];

  const plugIn = partClass === 'plug-in-relay';
  const alike = draws.chance(0.12);
  const measured = draws.chance(0.5);
  const smallForm = draws.pick(['tab', 'stud', 'screw'] as const);
  const terminals = Object.entries(roles).map(([role, size]) => {
    const terminalForm = plugIn ? 'pin' as const : alike ? 'screw' as const : size === 'heavy' ? 'stud' as const : smallForm;
    const mm = Math.round(100 * (size === 'heavy' ? draws.between(5.8, 9.9) : draws.between(3.9, 4.9))) / 100;
    return { id: at[role]!, form: terminalForm, ...(measured && terminalForm === 'stud' && { majorDiameterMm: mm }) };
  }).toSorted((a, b) => (a.id < b.id ? -1 : 1));
  return {
    form, partClass, nominalV, benchC, terminals, points: [...terminals.map(({ id }) => id), 'case'],
    rest: { links: [...windings, ...restContacts], oneWays }, heldIn: { links: [...windings, ...heldInContacts], oneWays },
    // A supply that can work the coil, and stays at its limit through a short.
    supplyV: nominalV, limitA: Math.min(15, Math.max(1.5 * nominalV / coil, draws.between(2, 10))),
    meterOffOhm: draws.between(0, 0.08), bare: draws.chance(0.5),
  };
}

/** What the instrument shows there, as a person would write it down. */
export function takeReading(part: SimulatedPart, probe: Probe, draws: Draws): Reading {
  const network = probe.pulledIn ? part.heldIn : part.rest;
  const trueOhm = probe.by === 'meter' ? readByMeter(network, probe.plus, probe.minus)
    : readBySupply(network, probe.plus, probe.minus, part.supplyV, part.limitA);
  const errors = [draws.normal(), draws.normal()] as const;
  if (trueOhm === Infinity) return { probe, ohm: 'open' };
  const by = probe.by === 'meter' ? METER : SUPPLY;
  const shown = Math.max(0, trueOhm * (1 + by.sigma * errors[0]) + by.sigmaOhm * errors[1] + (probe.by === 'meter' ? part.meterOffOhm : 0));
  const value = probe.by === 'meter' && shown < 200 ? Math.round(shown * 10) / 10 : Number(shown.toPrecision(4));
  if (part.bare && probe.by === 'meter') return { probe, ohm: value };
  return { probe, ohm: { value, plusMinus: Number(Math.max(by.claimedOhm, by.claimed * value).toPrecision(3)) } };
}

/** Every pair in both directions, at rest and held in, by meter and by supply. */
export function listProbes(part: SimulatedPart): Probe[] {
  return part.points.flatMap((plus) => part.points.filter((minus) => minus !== plus).flatMap((minus) =>
    [false, true].flatMap((pulledIn) => (['meter', 'supply'] as const).map((by) => ({ plus, minus, pulledIn, by })))));
}
