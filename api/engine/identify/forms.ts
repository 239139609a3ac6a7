/** A part class as far as coils and terminals go. */
export type CoilClass = 'start-relay' | 'contactor' | 'plug-in-relay' | 'shift-solenoid';

/** What a node of a form is outside: a stud for the heavy cable, a control terminal, or the metal body. */
export type NodeKind = 'heavy' | 'small' | 'case';

/** Ohms that are not known: a coil's own, or a resistor as a multiple of the coil it lies across. */
export type FormElement =
  | { readonly kind: 'coil'; readonly id: string; readonly between: readonly [string, string]; readonly watts: 'coil' | 'pull-in' | 'hold-in' }
  | { readonly kind: 'contact'; readonly id: string; readonly between: readonly [string, string]; readonly form: 'NO' | 'NC' }
  | { readonly kind: 'diode'; readonly from: string; readonly to: string }
  | { readonly kind: 'resistor'; readonly between: readonly [string, string]; readonly acrossCoil: string };

export type FormRole = 'battery-stud' | 'starter-stud' | 'stud' | 'coil' | 'coil+' | 'coil-' | 'start' | 'cranking-feed' | 'common' | 'no' | 'nc';

export interface CircuitForm {
  readonly name: string;
  /** each node that shows outside: what it looks like, and the role of the terminal that is it */
  readonly nodes: Readonly<Record<string, { readonly kind: 'heavy' | 'small'; readonly role: FormRole }>>;
  /** between the nodes and 'case' */
  readonly elements: readonly FormElement[];
  /** how common the form is within each class; a class it does not occur in is left out */
  readonly shares: Readonly<Partial<Record<CoilClass, number>>>;
}

const STUDS = { s1: { kind: 'heavy', role: 'stud' }, s2: { kind: 'heavy', role: 'stud' } } as const;
const MAIN: FormElement = { kind: 'contact', id: 'main', between: ['s1', 's2'], form: 'NO' };
const EITHER_WAY = { a: { kind: 'small', role: 'coil' }, b: { kind: 'small', role: 'coil' } } as const;
/** the cathode of the diode is the plus */
const ONE_WAY = { a: { kind: 'small', role: 'coil+' }, b: { kind: 'small', role: 'coil-' } } as const;
const COIL: FormElement = { kind: 'coil', id: 'coil', between: ['a', 'b'], watts: 'coil' };
const DIODE: FormElement = { kind: 'diode', from: 'b', to: 'a' };
const RESISTOR: FormElement = { kind: 'resistor', between: ['a', 'b'], acrossCoil: 'coil' };
const CHANGE = { c: { kind: 'heavy', role: 'common' }, no: { kind: 'heavy', role: 'no' }, nc: { kind: 'heavy', role: 'nc' } } as const;
const CHANGE_CONTACTS: readonly FormElement[] = [
  { kind: 'contact', id: 'makes', between: ['c', 'no'], form: 'NO' }, { kind: 'contact', id: 'breaks', between: ['c', 'nc'], form: 'NC' },
];

/**
 * The common forms of the data contract. Adding one is adding its circuit: nothing else knows them.
 * The shares are common practice, no source (counted by nobody); they only matter until readings speak.
 */
export const FORMS: readonly CircuitForm[] = [
  {
    name: 'case-return', nodes: { ...STUDS, a: { kind: 'small', role: 'coil' } },
    elements: [{ kind: 'coil', id: 'coil', between: ['a', 'case'], watts: 'coil' }, MAIN],
    shares: { 'start-relay': 0.35, contactor: 0.05 },
  },
  { name: 'isolated', nodes: { ...STUDS, ...EITHER_WAY }, elements: [COIL, MAIN], shares: { 'start-relay': 0.25, contactor: 0.55, 'plug-in-relay': 0.25 } },
  {
    name: 'isolated-diode', nodes: { ...STUDS, ...ONE_WAY }, elements: [COIL, DIODE, MAIN],
    shares: { 'start-relay': 0.1, contactor: 0.25, 'plug-in-relay': 0.12 },
  },
  {
    name: 'isolated-resistor', nodes: { ...STUDS, ...EITHER_WAY }, elements: [COIL, RESISTOR, MAIN],
    shares: { 'start-relay': 0.05, contactor: 0.15, 'plug-in-relay': 0.13 },
  },
  {
    name: 'cranking-feed',
    nodes: {
      s1: { kind: 'heavy', role: 'battery-stud' }, s2: { kind: 'heavy', role: 'starter-stud' }, a: { kind: 'small', role: 'start' }, f: { kind: 'small', role: 'cranking-feed' },
    },
    elements: [{ kind: 'coil', id: 'coil', between: ['a', 'case'], watts: 'coil' }, MAIN, { kind: 'contact', id: 'feed', between: ['s1', 'f'], form: 'NO' }],
    shares: { 'start-relay': 0.25 },
  },
  {
    name: 'shift-solenoid',
    nodes: { s1: { kind: 'heavy', role: 'battery-stud' }, s2: { kind: 'heavy', role: 'starter-stud' }, a: { kind: 'small', role: 'start' } },
    elements: [
      { kind: 'coil', id: 'pull-in', between: ['a', 's2'], watts: 'pull-in' }, { kind: 'coil', id: 'hold-in', between: ['a', 'case'], watts: 'hold-in' }, MAIN,
    ],
    shares: { 'shift-solenoid': 1 },
  },
  { name: 'changeover', nodes: { ...CHANGE, ...EITHER_WAY }, elements: [COIL, ...CHANGE_CONTACTS], shares: { 'plug-in-relay': 0.25 } },
  { name: 'changeover-diode', nodes: { ...CHANGE, ...ONE_WAY }, elements: [COIL, DIODE, ...CHANGE_CONTACTS], shares: { 'plug-in-relay': 0.12 } },
  { name: 'changeover-resistor', nodes: { ...CHANGE, ...EITHER_WAY }, elements: [COIL, RESISTOR, ...CHANGE_CONTACTS], shares: { 'plug-in-relay': 0.13 } },
];
