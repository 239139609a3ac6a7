import type { CoilElement, ContactElement, Part, Terminal } from '../../../catalog-schema/index.ts';
import { CIRCUIT_CONSTANTS, MOST_PLUNGERS } from '../circuit/index.ts';
import { describeSetting, settingOf } from '../settings.ts';
import { FIRST_PART_NODE, type MachineSide } from './machine-side.ts';
import type { RewireOptions } from './rewire-options.ts';

export interface PartCoil {
  readonly id: string;
  readonly a: number;
  readonly b: number;
  readonly ohm: number;
  /** at the machine's voltage, V */
  readonly pullInV: number;
  readonly dropOutV: number;
}

interface PartContact {
  readonly id: string;
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
}

/** A part as numbers: its terminals first, then the case, then its inner joints, numbered from FIRST_PART_NODE. */
export interface PartSide {
  readonly part: Part;
  readonly terminals: readonly Terminal[];
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
  readonly cautions: readonly string[];
  readonly assumptions: readonly string[];
}

/** Read a part's circuit for a machine's voltage. Defaults that were used are listed. */
export function readPart(part: Part, machine: MachineSide, options: RewireOptions): PartSide {
  const { nominalV } = machine;
  const cautions: string[] = [];
  const assumptions: string[] = [];
  const nodes = new Map<string, number>();
  for (const name of [...part.terminals.map((t) => t.id), 'case', ...(part.inside ?? [])]) nodes.set(name, FIRST_PART_NODE + nodes.size);
  const nodeCount = FIRST_PART_NODE + nodes.size;
  const at = (name: string): number => {
    const node = nodes.get(name);
    if (node === undefined) throw new RangeError(`part ${part.id}: no point ${name} in its circuit`);
    return node;
  };

  const coilElements = part.circuit.filter((element): element is CoilElement => element.kind === 'coil');
  const coils = coilElements.map((coil): PartCoil => {
    const scale = nominalV / coil.nominalV;
    if (coil.nominalV !== nominalV) {
      cautions.push(`Coil ${coil.id} is made for ${coil.nominalV} V and the machine has ${nominalV} V: the wiring is judged as if its thresholds `
        + `were scaled to ${nominalV} V; the part itself is the wrong one for this machine.`);
    }
    let ohm = coil.ohmAt20C;
    if (ohm === undefined) {
      const found = options.findCoilOhm?.(part, coil);
      ohm = found?.ohm ?? coil.nominalV ** 2 / settingOf('coilWatts');
      assumptions.push(`Coil ${coil.id} gives no resistance: ${round3(ohm)} Ohm (${found?.source ?? describeSetting('coilWatts')}).`);
    }
    if (coil.pullInV === undefined) {
      assumptions.push(`Coil ${coil.id} gives no pull-in: ${round3(settingOf('pullInOfNominal') * coil.nominalV)} V (${describeSetting('pullInOfNominal')}).`);
    }
    if (coil.dropOutV === undefined) {
      assumptions.push(`Coil ${coil.id} gives no drop-out: ${round3(settingOf('dropOutOfNominal') * coil.nominalV)} V (${describeSetting('dropOutOfNominal')}).`);
    }
    return {
      id: coil.id, a: at(coil.between[0]), b: at(coil.between[1]), ohm,
      pullInV: (coil.pullInV ?? settingOf('pullInOfNominal') * coil.nominalV) * scale,
      dropOutV: (coil.dropOutV ?? settingOf('dropOutOfNominal') * coil.nominalV) * scale,
    };
  });

  const plungers: number[][] = [];
  const plungerOf = (ids: readonly string[]): number => {
    const set = coilElements.flatMap((coil, index) => (ids.includes(coil.id) ? [index] : []));
    if (set.length === 0) return -1;
    const known = plungers.findIndex((p) => p.length === set.length && p.every((coil, i) => coil === set[i]));
    return known >= 0 ? known : plungers.push(set) - 1;
  };
  const contactElements = part.circuit.filter((element): element is ContactElement => element.kind === 'contact');
  const contacts = contactElements.map((contact): PartContact => ({
    id: contact.id, a: at(contact.between[0]), b: at(contact.between[1]), closedWhenIn: contact.form === 'NO', plunger: plungerOf(contact.coils),
  }));
  if (plungers.length > MOST_PLUNGERS) throw new RangeError(`part ${part.id}: ${plungers.length} plungers, want ${MOST_PLUNGERS} at most`);

  const resistors: { a: number; b: number; ohm: number }[] = [];
  const motors: { a: number; b: number; ohm: number }[] = [];
  const diodes: { from: number; to: number }[] = [];
  for (const element of part.circuit) {
    switch (element.kind) {
      case 'coil': case 'contact': break;
      case 'resistor':
        resistors.push({ a: at(element.between[0]), b: at(element.between[1]), ohm: Math.max(element.ohm, CIRCUIT_CONSTANTS.bareOhm.value) });
        break;
      case 'motor':
        if (element.ohm === undefined) assumptions.push(`The motor inside gives no resistance: ${describeSetting('motorOhm')}.`);
        motors.push({
          a: at(element.between[0]), b: at(element.between[1]),
          ohm: Math.max(element.ohm ?? settingOf('motorOhm'), CIRCUIT_CONSTANTS.bareOhm.value),
        });
        break;
      case 'diode': diodes.push({ from: at(element.from), to: at(element.to) }); break;
      default: refuseKind(element);
    }
  }

  const touched = new Uint8Array(nodeCount);
  for (const element of part.circuit) {
    for (const name of element.kind === 'diode' ? [element.from, element.to] : element.between) touched[at(name)] = 1;
  }
  const caseNode = at('case');
  const heavy = listHeavyContacts(contactElements, contacts, caseNode, machine.has.starter ? [] : motors);
  const { ownMotor } = heavy;
  // The own motor is laid as the machine's starter; every other motor is a resistance.
  resistors.push(...motors.filter((motor) => motor !== heavy.motor));
  return {
    part, terminals: part.terminals, caseNode, nodeCount, coils, plungers, contacts, diodes, resistors, touched, cautions, assumptions,
    heavyPairs: heavy.pairs, ownMotor,
  };
}

/**
 * The contacts battery and starter may go on: highest inrush, else highest continuous rating, else any; both ends on terminals. Where a motor
 * may be the load, a contact from a terminal to it counts first.
 */
function listHeavyContacts(
  elements: readonly ContactElement[], contacts: readonly PartContact[], caseNode: number, motors: readonly { a: number; b: number; ohm: number }[],
): { pairs: HeavyPair[]; motor: { a: number; b: number } | undefined; ownMotor: OwnMotor | undefined } {
  const all = elements.map((element, i) => ({ element, contact: contacts[i]! }));
  const feeds = all.flatMap(({ element, contact }) => [[contact.a, contact.b], [contact.b, contact.a]].flatMap(([battery, fed]) => {
    const motor = motors.find((one) => one.a === fed || one.b === fed);
    return motor && battery! < caseNode ? [{ element, contact, battery: battery!, fed: fed!, motor }] : [];
  }));
  const feed = pickBest(feeds)[0];
  if (feed) {
    const plungers = feed.contact.plunger < 0 ? 0 : 1 << feed.contact.plunger;
    const other = feed.motor.a === feed.fed ? feed.motor.b : feed.motor.a;
    return {
      pairs: [{ battery: feed.battery, starter: feed.fed, plungers }], motor: feed.motor, ownMotor: { fed: feed.fed, other, ohm: feed.motor.ohm },
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

function pickBest<T extends { element: ContactElement }>(rows: readonly T[]): readonly T[] {
  for (const ratingOf of [(c: ContactElement) => c.inrushA, (c: ContactElement) => c.continuousA]) {
    const most = Math.max(...rows.map(({ element }) => ratingOf(element) ?? -Infinity));
    if (most > -Infinity) return rows.filter(({ element }) => ratingOf(element) === most);
  }
  return rows;
}

/** The name of a node of the part. */
export function nameNode(side: PartSide, node: number): string {
  const index = node - FIRST_PART_NODE;
  if (node === side.caseNode) return 'case';
  return index < side.terminals.length ? side.terminals[index]!.id : side.part.inside![index - side.terminals.length - 1]!;
}

function refuseKind(element: never): never {
  throw new TypeError(`unknown element ${JSON.stringify(element)}`);
}

function round3(value: number): number {
  return Number(value.toPrecision(3));
}
