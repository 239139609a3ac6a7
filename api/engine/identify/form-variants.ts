import { NodalSolver } from '../circuit/index.ts';
import { settingOf } from '../settings.ts';
import type { CircuitForm, FormElement } from './forms.ts';

/** What a probe pair shows: nothing joins, a joint of about nothing, ohms of windings, or a diode that a supply turns on
 * ('either' where it was not noted which way round the supply was). */
export type Shown = { readonly kind: 'open' } | { readonly kind: 'joint' } | ShownOhms;
export interface ShownOhms {
  readonly kind: 'ohms' | 'forward' | 'either';
  readonly shape: Shape;
  readonly factor: number;
  /** equal for all that show the same */
  readonly name: string;
}
/** which unknown ohms a reading depends on: the first coil, the second, both in series, both side by side */
export type Shape = 'first' | 'second' | 'series' | 'parallel';

/** What is wrong with a removed part of the form, if anything. */
export type Condition = { readonly fault: 'none' } | { readonly fault: 'stuck-open' | 'stuck-closed' | 'open-coil'; readonly element: string };

/** A form in one condition and with one resistor ratio: every unknown that is not a coil's ohms is settled. */
export interface FormVariant {
  readonly form: CircuitForm;
  readonly condition: Condition;
  /** resistor across the coil, times the coil's ohms; 0 where there is none */
  readonly ratio: number;
  /** given the form */
  readonly share: number;
  /** while no winding is read, the variant that stands for its condition with every ratio, and the share of that; 0 for the others */
  readonly shareUnread: number;
  readonly coils: readonly (FormElement & { kind: 'coil' })[];
  /** what a meter, or a supply with plus on the first or the second node, shows between two of the form's nodes ('case' is the last) */
  readonly show: (first: number, second: number, held: boolean, plus: 'meter' | 'first' | 'second') => Shown;
  /** a meter's reading in one number for tight loops, at (held * count + first) * count + second: open, joint, a winding */
  readonly codes: Uint8Array;
  readonly count: number;
  readonly hasDiode: boolean;
}

export const CODE = { open: 0, joint: 1, winding: 2 } as const;

export const OPEN: Shown = { kind: 'open' };
const JOINT: Shown = { kind: 'joint' };

/** three points of a normal variable (Gauss-Hermite) */
const THREE_POINTS: readonly (readonly [number, number])[] = [[-Math.sqrt(3), 1 / 6], [0, 2 / 3], [Math.sqrt(3), 1 / 6]];

/** The nodes of a form in order; 'case' is the last. */
export function nodesOf(form: CircuitForm): string[] {
  return [...Object.keys(form.nodes), 'case'];
}

/** Every condition a removed part of this form may be in, with the resistor ratios that stand for their spread. */
export function varyForm(form: CircuitForm): FormVariant[] {
  const conditions: { condition: Condition; share: number }[] = [];
  const windings = form.elements.filter(({ kind }) => kind === 'coil').length;
  form.elements.forEach((element) => {
    if (element.kind === 'contact') conditions.push({ condition: { fault: 'stuck-open', element: element.id }, share: settingOf('stuckOpenShare') });
    if (element.kind === 'coil') conditions.push({ condition: { fault: 'open-coil', element: element.id }, share: settingOf('openCoilShare') / windings });
  });
  const main = form.elements.find((element) => element.kind === 'contact');
  if (main) conditions.push({ condition: { fault: 'stuck-closed', element: main.id }, share: settingOf('stuckClosedShare') });
  const sound = 1 - conditions.reduce((sum, { share }) => sum + share, 0);
  const ratios = form.elements.some(({ kind }) => kind === 'resistor')
    ? THREE_POINTS.map(([z, share]) => ({ ratio: settingOf('resistorOfCoil') * Math.exp(z * settingOf('resistorSpread')), share })) : [{ ratio: 0, share: 1 }];
  return [{ condition: { fault: 'none' } as Condition, share: sound }, ...conditions].flatMap((each) => ratios.map(({ ratio, share }, index) => {
    const coils = form.elements.filter((element) => element.kind === 'coil');
    if (coils.length > 2) throw new Error(`${form.name}: more than two coils of unknown ohms`);
    return { form, condition: each.condition, ratio, share: each.share * share, shareUnread: index === (ratios.length - 1) / 2 ? each.share : 0, coils, ...predict(form, each.condition, ratio) };
  }));
}

function predict(form: CircuitForm, condition: Condition, ratio: number): Pick<FormVariant, 'show' | 'codes' | 'count' | 'hasDiode'> {
  const nodes = nodesOf(form);
  const count = nodes.length;
  const table: Shown[] = [];
  for (const held of [false, true]) {
    for (let first = 0; first < count; first++) {
      for (let second = 0; second < count; second++) {
        const off = first === second ? { shown: JOINT, forward: false } : showBetween(form, condition, ratio, nodes, first, second, held);
        table.push(off.shown, off.forward ? forwardOf(off.shown) : off.shown);
      }
    }
  }
  const at = (first: number, second: number, held: boolean, supply: number): Shown => table[(((held ? count : 0) + first) * count + second) * 2 + supply]!;
  return {
    show: (first, second, held, plus) => (plus === 'second' ? at(second, first, held, 1) : at(first, second, held, plus === 'meter' ? 0 : 1)),
    codes: Uint8Array.from(table.filter((_, i) => i % 2 === 0), ({ kind }) => (kind === 'open' ? CODE.open : kind === 'joint' ? CODE.joint : CODE.winding)),
    count, hasDiode: form.elements.some(({ kind }) => kind === 'diode'),
  };
}

function forwardOf(shown: Shown): Shown {
  return shown.kind === 'ohms' ? nameOhms('forward', shown.shape, shown.factor) : shown;
}

export function nameOhms(kind: ShownOhms['kind'], shape: Shape, factor: number): ShownOhms {
  return { kind, shape, factor, name: `${kind}${shape}${factor.toFixed(9)}` };
}

const solver = new NodalSolver();

/** Solves the circuit with its diodes blocking, and says whether plus on the first node would turn one on. */
function showBetween(
  form: CircuitForm, condition: Condition, ratio: number, nodes: readonly string[], first: number, second: number, held: boolean,
): { shown: Shown; forward: boolean } {
  const ohmsAt = (x: number, y: number): { ohm: number; forward: boolean } => {
    // The second node is ground, so that the first is the plus of a source of 1 V behind 1 Ohm.
    const at = (name: string): number => {
      const index = nodes.indexOf(name);
      return index === second ? 0 : index < second ? index + 1 : index;
    };
    solver.begin(nodes.length);
    const ohmOf = new Map(form.elements.filter((element) => element.kind === 'coil').map((coil, i) => [coil.id, i === 0 ? x : y]));
    const branch = solver.addBranch(0, at(nodes[first]!), 1, 1);
    for (const element of form.elements) {
      switch (element.kind) {
        case 'coil':
          if (!(condition.fault === 'open-coil' && condition.element === element.id)) solver.addBranch(at(element.between[0]), at(element.between[1]), ohmOf.get(element.id)!);
          break;
        case 'resistor': solver.addBranch(at(element.between[0]), at(element.between[1]), ratio * ohmOf.get(element.acrossCoil)!); break;
        case 'contact': if (isClosed(element, condition, held)) solver.tie(at(element.between[0]), at(element.between[1])); break;
        case 'diode': break;
        default: throw new TypeError(`no branch for ${JSON.stringify(element satisfies never)}`);
      }
    }
    solver.solve();
    const amps = solver.ampsOf(branch);
    const forward = form.elements.some((element) => element.kind === 'diode' && solver.voltsAt(at(element.from)) - solver.voltsAt(at(element.to)) > 1e-6);
    return { ohm: amps < 1e-9 ? Number.POSITIVE_INFINITY : 1 / amps - 1, forward };
  };
  const { ohm, forward } = ohmsAt(1, 1);
  if (ohm === Number.POSITIVE_INFINITY) return { shown: OPEN, forward: false };
  if (ohm < 1e-9) return { shown: JOINT, forward: false };
  const byFirst = ohmsAt(2, 1).ohm / ohm;
  const bySecond = ohmsAt(1, 2).ohm / ohm;
  const shape: Shape = bySecond < 1 + 1e-6 ? 'first' : byFirst < 1 + 1e-6 ? 'second' : byFirst > 1.4 ? 'series' : 'parallel';
  // With both at 1 Ohm a series reads 2, two side by side 0.5; the factor is what is over and above.
  const plain = shape === 'series' ? 2 : shape === 'parallel' ? 0.5 : 1;
  return { shown: nameOhms('ohms', shape, ohm / plain), forward };
}

function isClosed({ id, form }: FormElement & { kind: 'contact' }, condition: Condition, held: boolean): boolean {
  if (condition.fault === 'stuck-open' && condition.element === id) return false;
  // A welded contact holds the plunger in.
  const inside = held || condition.fault === 'stuck-closed';
  return form === 'NO' ? inside : !inside;
}

/** Ohms shown for coils of these ohms. */
export function ohmOfShape(shape: Shape, factor: number, first: number, second: number): number {
  switch (shape) {
    case 'first': return factor * first;
    case 'second': return factor * second;
    case 'series': return factor * (first + second);
    case 'parallel': return factor * first * second / (first + second);
    default: throw new TypeError(`no ohms for ${shape satisfies never}`);
  }
}
