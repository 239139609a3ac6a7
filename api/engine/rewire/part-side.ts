import type { CoilElement } from '../../../catalog-schema/index.ts';
import { MOST_PLUNGERS } from '../circuit/index.ts';
import { settingOf } from '../settings.ts';
import type { CircuitShape, ContactShape, PartNames } from './circuit-shape.ts';
import { FIRST_PART_NODE, type MachineSide } from './machine-side.ts';

export interface PartCoil {
  readonly a: number;
  readonly b: number;
  readonly ohm: number;
  /** at the machine's voltage, V */
  readonly pullInV: number;
  readonly dropOutV: number;
}

interface PartContact {
  readonly a: number;
  readonly b: number;
  readonly closedWhenIn: boolean;
  /** index in `plungers`; -1: no coil moves it */
  readonly plunger: number;
}

/** One end for the battery, the other for the starter. */
export interface HeavyPair {
  readonly battery: number;
  readonly starter: number;
  /** plungers of the contacts between the two, as bits; 0 where nothing moves them */
  readonly plungers: number;
}

/** Nodes of a motor inside the part: the one its contact feeds, and the one that must reach chassis. */
interface OwnMotor {
  readonly fed: number;
  readonly other: number;
  readonly ohm: number;
  /** its number among the motors of the shape */
  readonly motor: number;
  /** nothing else of the part could be its load: else the first in order of the names is taken */
  readonly isSole: boolean;
}

/** A part as numbers, on one machine: its terminals first, then the case, then its inner joints, numbered from FIRST_PART_NODE. */
export interface PartSide {
  readonly terminals: CircuitShape['terminals'];
  readonly conductive: boolean | undefined;
  /** what stands for each terminal, the case and the chassis where order by text decides */
  readonly standIns: readonly string[];
  /** for each wire of the record its same place: terminal, the number of terminals for the case, or undefined */
  readonly same: readonly (number | undefined)[];
  readonly caseNode: number;
  /** all nodes, the machine's included */
  readonly nodeCount: number;
  readonly coils: readonly PartCoil[];
  /** coil indices of each plunger */
  readonly plungers: readonly (readonly number[])[];
  readonly contacts: readonly PartContact[];
  readonly diodes: readonly { readonly from: number; readonly to: number }[];
  readonly resistors: readonly { readonly a: number; readonly b: number; readonly ohm: number }[];
  readonly heavyPairs: readonly HeavyPair[];
  /** the motor behind the heavy contact, where the record has no starter wire: the part is the starter */
  readonly ownMotor: OwnMotor | undefined;
  /** for each node, whether an element of the part touches it */
  readonly touched: Uint8Array;
}

/**
 * Lay a part's shape out for one machine.
 * @param same the place of each wire of the record on this part
 * @param ohmOf ohms of a coil (by its number in the shape) that does not say
 */
export function readPart(shape: CircuitShape, machine: MachineSide, same: PartSide['same'], ohmOf: (coil: number) => number): PartSide {
  const at = (node: number): number => FIRST_PART_NODE + node;
  const nodeCount = at(shape.nodeCount);
  const caseNode = at(shape.terminals.length);
  const coils = shape.coils.map((coil, index): PartCoil => {
    const scale = machine.nominalV / coil.nominalV;
    return { a: at(coil.a), b: at(coil.b), ohm: coil.ohm ?? ohmOf(index), pullInV: coil.pullInV * scale, dropOutV: coil.dropOutV * scale };
  });
  const plungers: (readonly number[])[] = [];
  const plungerOf = (set: readonly number[]): number => {
    if (set.length === 0) return -1;
    const known = plungers.findIndex((p) => p.length === set.length && p.every((coil, i) => coil === set[i]));
    return known >= 0 ? known : plungers.push(set) - 1;
  };
  const contacts = shape.contacts.map((contact): PartContact => ({
    a: at(contact.a), b: at(contact.b), closedWhenIn: contact.form === 'NO', plunger: plungerOf(contact.coils),
  }));
  if (plungers.length > MOST_PLUNGERS) throw new RangeError(`readPart: ${plungers.length} plungers, want ${MOST_PLUNGERS} at most`);
  const resistors = shape.resistors.map(({ a, b, ohm }) => ({ a: at(a), b: at(b), ohm }));
  const motors = shape.motors.map(({ a, b, ohm }) => ({ a: at(a), b: at(b), ohm }));
  const diodes = shape.diodes.map(({ from, to }) => ({ from: at(from), to: at(to) }));

  const touched = new Uint8Array(nodeCount);
  for (const { a, b } of [...coils, ...contacts, ...resistors, ...motors]) touched[a] = touched[b] = 1;
  for (const { from, to } of diodes) touched[from] = touched[to] = 1;
  const heavy = listHeavyContacts(shape.contacts, contacts, caseNode, machine.has.starter ? [] : motors);
  // The own motor is laid as the machine's starter; every other motor is a resistance.
  resistors.push(...motors.filter((motor) => motor !== heavy.motor));
  return {
    terminals: shape.terminals, conductive: shape.conductive, standIns: shape.standIns, same, caseNode, nodeCount, coils, plungers, contacts, diodes,
    resistors, touched, heavyPairs: heavy.pairs, ownMotor: heavy.ownMotor,
  };
}

/** Ohms of a coil that neither the part nor the catalogue knows: of the watts that are usual. */
export function ohmByWatts(coil: CoilElement): number {
  return coil.nominalV ** 2 / settingOf('coilWatts');
}

/**
 * The contacts battery and starter may go on: highest inrush, else highest continuous rating, else any; both ends on terminals. Where a motor
 * may be the load, a contact from a terminal to it counts first.
 */
function listHeavyContacts(
  shapes: readonly ContactShape[], contacts: readonly PartContact[], caseNode: number, motors: readonly { a: number; b: number; ohm: number }[],
): { pairs: HeavyPair[]; motor: { a: number; b: number } | undefined; ownMotor: OwnMotor | undefined } {
  const all = shapes.map(({ rank }, i) => ({ rank, contact: contacts[i]! }));
  const feeds = all.flatMap(({ rank, contact }) => [[contact.a, contact.b], [contact.b, contact.a]].flatMap(([battery, fed]) => {
    const motor = motors.find((one) => one.a === fed || one.b === fed);
    return motor && battery! < caseNode ? [{ rank, contact, battery: battery!, fed: fed!, motor }] : [];
  }));
  const best = pickBest(feeds);
  const feed = best[0];
  if (feed) {
    const plungers = feed.contact.plunger < 0 ? 0 : 1 << feed.contact.plunger;
    const other = feed.motor.a === feed.fed ? feed.motor.b : feed.motor.a;
    return {
      pairs: [{ battery: feed.battery, starter: feed.fed, plungers }], motor: feed.motor,
      ownMotor: {
        fed: feed.fed, other, ohm: feed.motor.ohm, motor: motors.indexOf(feed.motor), 
        isSole: best.length === 1 && motors.filter((one) => one.a === feed.fed || one.b === feed.fed).length === 1,
      },
    };
  }
  const pairs: { battery: number; starter: number; plungers: number }[] = [];
  for (const { contact } of pickBest(all.filter(({ contact }) => contact.a < caseNode && contact.b < caseNode))) {
    const bit = contact.plunger < 0 ? 0 : 1 << contact.plunger;
    for (const [battery, starter] of [[contact.a, contact.b], [contact.b, contact.a]] as const) {
      const known = pairs.find((pair) => pair.battery === battery && pair.starter === starter);
      if (known) known.plungers |= bit;
      else pairs.push({ battery, starter, plungers: bit });
    }
  }
  return { pairs, motor: undefined, ownMotor: undefined };
}

function pickBest<T extends { rank: number }>(rows: readonly T[]): readonly T[] {
  const most = Math.max(...rows.map(({ rank }) => rank));
  return rows.filter(({ rank }) => rank === most);
}

/** The name of a terminal or the case. */
export function nameNode(names: Pick<PartNames, 'nodes'>, node: number): string {
  return names.nodes[node - FIRST_PART_NODE]!;
}

/** What a coil is called: by its id, unless that says no more than the word. */
export function nameCoil(id: string): string {
  return id === 'coil' ? 'the coil' : `coil ${id}`;
}
