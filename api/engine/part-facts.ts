import type { CoilElement, ContactElement, Part, Terminal } from '../../catalog-schema/index.ts';
import { readThread, type Thread } from '../../catalog-schema/thread/index.ts';

/** The coils of a part, the heavy contact and what works it: what most checks ask for. */
export interface PartFacts {
  readonly coils: readonly CoilElement[];
  readonly contacts: readonly ContactElement[];
  /** the contact that feeds the heavy load: highest inrush rating, else highest continuous, else the first normally open one */
  readonly heavy: ContactElement | undefined;
  /** coils that work it; all coils where there is no such contact */
  readonly working: readonly CoilElement[];
  /** those of them that go on carrying current once the contact is closed */
  readonly holding: readonly CoilElement[];
  readonly studs: readonly Terminal[];
  readonly hasDiode: boolean;
}

export function factsOf(part: Part): PartFacts {
  const coils = part.circuit.filter((element): element is CoilElement => element.kind === 'coil');
  const contacts = part.circuit.filter((element): element is ContactElement => element.kind === 'contact');
  const heavy = findHeavy(contacts);
  const working = heavy && heavy.coils.length > 0 ? coils.filter(({ id }) => heavy.coils.includes(id)) : coils;
  // A winding to an end of the contact it works has no voltage left once that contact is closed: a pull-in winding.
  const holding = working.filter(({ between }) => !heavy || !between.some((node) => heavy.between.includes(node)));
  return {
    coils, contacts, heavy, working, holding: holding.length > 0 ? holding : working,
    studs: part.terminals.filter(({ form }) => form === 'stud'), hasDiode: part.circuit.some(({ kind }) => kind === 'diode'),
  };
}

/** Whether the circuit is one coil and contacts, with nothing else but what lies across the coil. */
export function isOneCoilAlone({ circuit, inside = [] }: Part): boolean {
  const coils = circuit.filter((element): element is CoilElement => element.kind === 'coil');
  if (coils.length !== 1 || inside.length > 0) return false;
  return circuit.every((element) => {
    if (element.kind === 'coil' || element.kind === 'contact') return true;
    const ends = element.kind === 'diode' ? [element.from, element.to] : element.between;
    return element.kind !== 'motor' && ends.every((node) => coils[0]!.between.includes(node));
  });
}

/** Current through the coil and the resistors across it at a voltage, A; undefined where the coil does not give its ohms. */
export function currentOf(coil: CoilElement, part: Part, volts: number, coilFactor = 1): number | undefined {
  if (coil.ohmAt20C === undefined) return undefined;
  let amps = volts / (coil.ohmAt20C * coilFactor);
  for (const element of part.circuit) {
    if (element.kind === 'resistor' && element.between.every((node) => coil.between.includes(node))) amps += volts / Math.max(element.ohm, 1e-6);
  }
  return amps;
}

/** Copper at a temperature against copper at 20 C (IEC 60028). */
export function copperFactor(celsius: number): number {
  return 1 + 0.00393 * (celsius - 20);
}

/** The thread a terminal is said to have, where it can be read. */
export function threadOf(terminal: { thread?: string }): Thread | undefined {
  return terminal.thread === undefined ? undefined : readThread(terminal.thread);
}

/** What a person calls the part's class. */
export function describeClass(partClass: Part['partClass']): string {
  switch (partClass) {
    case 'start-relay': return 'start relay';
    case 'contactor': return 'contactor';
    case 'plug-in-relay': return 'plug-in relay';
    case 'shift-solenoid': return 'shift solenoid';
    case 'starter-motor': return 'starter motor';
    default: throw new Error(`part class ${String(partClass satisfies never)} is not known`);
  }
}

function findHeavy(contacts: readonly ContactElement[]): ContactElement | undefined {
  const byRating = (rating: 'inrushA' | 'continuousA'): ContactElement | undefined => {
    let best: ContactElement | undefined;
    for (const contact of contacts) {
      const amps = contact[rating];
      if (amps !== undefined && (!best || amps > best[rating]! || (amps === best[rating] && contact.form === 'NO' && best.form === 'NC'))) best = contact;
    }
    return best;
  };
  return byRating('inrushA') ?? byRating('continuousA') ?? contacts.find(({ form }) => form === 'NO') ?? contacts[0];
}
