import type { CircuitElement, IdentifyAnswer, TerminalRole } from '../../../catalog-schema/index.ts';
import { nodesOf } from './form-variants.ts';
import type { FormRole } from './forms.ts';
import { normaliseLogs, roundMicro, roundShares } from './posterior.ts';
import type { Hypothesis } from './weigh-forms.ts';

/** A hypothesis with its share of the probability. */
export interface Weighed { readonly hypothesis: Hypothesis; readonly share: number; readonly roles: readonly (FormRole | 'unused')[]; readonly label: string }

/** Below this, two roles that readings cannot tell apart are said by the name they share. */
const SURE = 0.95;
/** Roles that go by one name as long as it is not known which is which. */
const SHARED_NAMES: Readonly<Partial<Record<FormRole | 'unused', TerminalRole>>> = {
  'battery-stud': 'stud', 'starter-stud': 'stud', 'coil+': 'coil', 'coil-': 'coil',
};

export function shareOut(hypotheses: readonly Hypothesis[]): Weighed[] {
  const shares = normaliseLogs(hypotheses.map(({ log }) => log));
  const known = new Map<Int8Array, { roles: (FormRole | 'unused')[]; label: string }>();
  return hypotheses.map((hypothesis, i) => {
    const roles = known.get(hypothesis.nodeOf)?.roles ?? rolesOf(hypothesis);
    const label = known.get(hypothesis.nodeOf)?.label ?? roles.join();
    known.set(hypothesis.nodeOf, { roles, label });
    return { hypothesis, share: shares[i]!, roles, label };
  }).toSorted((a, b) => b.share - a.share || compare(a.label, b.label));
}

function rolesOf({ variant, nodeOf }: Hypothesis): (FormRole | 'unused')[] {
  const roles = Object.values(variant.form.nodes).map(({ role }) => role);
  return [...nodeOf].slice(0, -1).map((node) => (node < 0 ? 'unused' : roles[node]!));
}

/** What stands for one form: its probability, its likeliest way of lying on the terminals, and what is known of its voltage. */
export interface FormFound { readonly form: string; readonly share: number; readonly best: Weighed; readonly own: readonly Weighed[] }

/** Each form with its probability over all ways it may lie on the terminals, likeliest first. */
export function groupForms(weighed: readonly Weighed[]): FormFound[] {
  const groups = new Map<string, Weighed[]>();
  for (const each of weighed) {
    const name = each.hypothesis.variant.form.name;
    const own = groups.get(name);
    if (own) own.push(each);
    else groups.set(name, [each]);
  }
  return [...groups].map(([form, own]) => {
    // The roles that gather the most, over conditions, classes and ways that no probe tells apart.
    const labels = new Map<string, number>();
    for (const { label, share } of own) labels.set(label, (labels.get(label) ?? 0) + share);
    const most = Math.max(...labels.values());
    const label = [...labels].filter(([, share]) => share >= most * (1 - 1e-9)).map(([name]) => name).toSorted()[0]!;
    return { form, share: own.reduce((sum, { share }) => sum + share, 0), best: own.find((each) => each.label === label)!, own };
  }).toSorted((a, b) => b.share - a.share || compare(a.form, b.form));
}

export function describeForms(
  forms: readonly FormFound[], points: readonly string[], warm: number, nominalOf: (found: FormFound) => number,
): IdentifyAnswer['circuits'] {
  const shares = roundShares(forms.map(({ share }) => share));
  return forms.map((found, i) => ({
    form: found.form, probability: shares[i]!,
    circuit: drawCircuit(found.best.hypothesis, points, warm, nominalOf(found)), roles: sayRoles(found, points),
  })).filter(({ probability }) => probability > 0);
}

function sayRoles({ best, own, share }: FormFound, points: readonly string[]): Record<string, TerminalRole> {
  return Object.fromEntries(best.roles.map((role, terminal) => {
    const sure = own.reduce((sum, each) => sum + (each.roles[terminal] === role ? each.share : 0), 0) / share;
    return [points[terminal]!, sure < SURE ? SHARED_NAMES[role] ?? role : role];
  }));
}

/** The point that a node of the form lies on; a node that no terminal of the record is keeps its role's name. */
export function pointOf({ variant, nodeOf }: Hypothesis, points: readonly string[], node: string): string {
  const point = nodeOf.indexOf(nodesOf(variant.form).indexOf(node));
  if (point >= 0) return points[point]!;
  const { role } = variant.form.nodes[node]!;
  const name = `${role} (not listed)`;
  return Object.entries(variant.form.nodes).filter(([, each]) => each.role === role).length > 1 ? `${name} ${node}` : name;
}

function drawCircuit(hypothesis: Hypothesis, points: readonly string[], warm: number, nominalV: number): CircuitElement[] {
  const { variant, ohms } = hypothesis;
  const at = (node: string): string => pointOf(hypothesis, points, node);
  const ids = variant.coils.map(({ id }) => id);
  return variant.form.elements.map((element): CircuitElement => {
    switch (element.kind) {
      case 'coil':
        return { kind: 'coil', id: element.id, between: [at(element.between[0]), at(element.between[1])], nominalV, ohmAt20C: roundMicro(ohms.coils[ids.indexOf(element.id)]!.ohm / warm) };
      case 'contact':
        return { kind: 'contact', id: element.id, between: [at(element.between[0]), at(element.between[1])], form: element.form, coils: ids };
      case 'diode': return { kind: 'diode', from: at(element.from), to: at(element.to) };
      case 'resistor':
        return { kind: 'resistor', between: [at(element.between[0]), at(element.between[1])], ohm: roundMicro(variant.ratio * ohms.coils[ids.indexOf(element.acrossCoil)]!.ohm) };
      default: throw new TypeError(`no drawing for ${JSON.stringify(element satisfies never)}`);
    }
  });
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
