import type { BenchRecord } from '../../../catalog-schema/index.ts';
import { settingOf } from '../settings.ts';
import type { BenchReading } from './bench-readings.ts';
import { priorShare } from './form-prior.ts';
import { CODE, nameOhms, OPEN, varyForm, type FormVariant, type Shown } from './form-variants.ts';
import { FORMS, type CircuitForm, type CoilClass, type FormRole } from './forms.ts';
import { integrateOhms, type OhmReadingOf, type OhmsFound } from './integrate-ohms.ts';
import { lookOf, lookShare, roleFactor, type Look } from './outer-evidence.ts';

/** One way the removed part may be: a form in a condition, its nodes on the record's points, of a class. */
export interface Hypothesis {
  readonly variant: FormVariant;
  readonly coilClass: CoilClass;
  /** the form's node of each point; -1 for a terminal that nothing is joined to; the last point is the case */
  readonly nodeOf: Int8Array;
  readonly ohms: OhmsFound;
  /** ln, not scaled */
  readonly log: number;
}

const VARIANTS: ReadonlyMap<CircuitForm, readonly FormVariant[]> = new Map(FORMS.map((form) => [form, varyForm(form)]));

/** Whoever leaves one terminal out, or lists none, leaves out others as easily (common practice, no source). */
const FURTHER_UNLISTED = 0.5;
/** A part with more terminals than this is none of the common forms. */
export const MOST_TERMINALS = 7;
const MOST_SPARE = 2;
/** A hypothesis this many e-folds below the best cannot show in six digits. */
const HOPELESS = 18;

/**
 * Every way the removed part may be, with ln of its prior times the likelihood of all readings: each form, in each condition, with
 * its nodes on the record's points in every way, the coils' unknown ohms integrated out.
 */
export function weighForms(
  record: BenchRecord, points: readonly string[], readings: readonly BenchReading[], volts: readonly { volts: number; share: number }[], warm: number,
): Hypothesis[] {
  const terminals = points.length - 1;
  const looks: readonly Look[] = points.slice(0, -1).map((id) => {
    const terminal = record.terminals?.find((each) => each.id === id);
    return terminal ? lookOf(terminal) : 'not-said';
  });
  const pairs = gatherPairs(readings);
  const trials: Trial[] = [];
  for (const form of FORMS) {
    const classes = Object.keys(form.shares) as CoilClass[];
    const roles: readonly FormRole[] = Object.values(form.nodes).map(({ role }) => role);
    const kinds = Object.values(form.nodes).map(({ kind }) => kind);
    const factors = points.slice(0, -1).map((id) => roles.map((role) => roleFactor(record, id, role)));
    const maps = mapTerminals(terminals, roles);
    const ways = maps.reduce((sum, map) => sum + map.ways, 0);
    const priors = classes.map((coilClass) => Math.log(priorShare(form, coilClass, record.partClass)));
    const outside = classes.map((coilClass) => lookLogs(looks, kinds, factors, coilClass));
    for (const { nodeOf, ways: own } of maps) {
      const missing = logMissing(nodeOf, looks, kinds.length);
      const outer = outside.map((logs, i) => logs.reduce((sum, ofPoint, point) => sum + ofPoint.at(nodeOf[point]!)!, priors[i]! + Math.log(own / ways) + missing));
      const outerBest = Math.max(...outer);
      let last: FormVariant | undefined;
      let read = { fixed: 0, most: 0 };
      for (const variant of VARIANTS.get(form)!) {
        // What joins does not depend on the resistor's ohms.
        if (variant.condition !== last?.condition) read = readFixed(variant, nodeOf, pairs);
        last = variant;
        const { fixed, most } = read;
        const share = fixed === most ? variant.shareUnread : variant.share;
        if (share > 0) trials.push({ variant, nodeOf, classes, outer, fixed: fixed + Math.log(share), most: outerBest + most + Math.log(share) });
      }
    }
  }

  // Likeliest first, as far as can be told without the integral: most are hopeless before it is taken.
  trials.sort((a, b) => b.most - a.most);
  const found: Hypothesis[] = [];
  const cache = new Map<string, OhmsFound[]>();
  let best = Number.NEGATIVE_INFINITY;
  for (const { variant, nodeOf, classes, outer, fixed, most } of trials) {
    if (most < best - HOPELESS) break;
    const ohmic = pickOhmic(variant, nodeOf, readings);
    const key = keyOf(variant, ohmic);
    const ohms = cache.get(key) ?? integrateOhms(variant, ohmic, classes, volts, warm);
    cache.set(key, ohms);
    classes.forEach((coilClass, i) => {
      const log = outer[i]! + fixed + ohms[i]!.log;
      if (!Number.isFinite(log) || log < best - HOPELESS) return;
      best = Math.max(best, log);
      found.push({ variant, coilClass, nodeOf, ohms: ohms[i]!, log });
    });
  }
  return found.filter(({ log }) => log >= best - HOPELESS);
}

/** A form in a condition on the record's points, before its unknown ohms are integrated out. */
interface Trial {
  readonly variant: FormVariant;
  readonly nodeOf: Int8Array;
  readonly classes: readonly CoilClass[];
  /** ln of each class's prior and of how well the outside suits */
  readonly outer: readonly number[];
  /** ln of the condition's share and of the likelihood of the readings that depend on no ohms, and the most that all of it can come to */
  readonly fixed: number;
  readonly most: number;
}

/** What the circuit shows for a reading, the form's nodes being where `nodeOf` says. */
export function showReading(variant: FormVariant, nodeOf: Int8Array, { a, b, held, plus }: Pick<BenchReading, 'a' | 'b' | 'held' | 'plus'>): readonly [Shown, Shown?] {
  const [first, second] = [nodeOf[a]!, nodeOf[b]!];
  if (first < 0 || second < 0) return [OPEN];
  switch (plus) {
    case 'meter': return [variant.show(first, second, held, 'meter')];
    case 'a': return [variant.show(first, second, held, 'first')];
    case 'b': return [variant.show(first, second, held, 'second')];
    case 'either': return [variant.show(first, second, held, 'first'), variant.show(first, second, held, 'second')];
    default: throw new TypeError(`no side ${plus satisfies never}`);
  }
}

/** The readings of one pair in one state: log-likelihood where nothing joins, where a joint does, and the most a winding can give. */
interface PairRead { readonly a: number; readonly b: number; readonly held: boolean; logOpen: number; logJoint: number; logMost: number }

function gatherPairs(readings: readonly BenchReading[]): PairRead[] {
  const pairs = new Map<string, PairRead>();
  for (const { a, b, held, logOpen, logJoint, logMost } of readings) {
    const key = `${Math.min(a, b)} ${Math.max(a, b)} ${held}`;
    const own = pairs.get(key) ?? { a, b, held, logOpen: 0, logJoint: 0, logMost: 0 };
    own.logOpen += logOpen;
    own.logJoint += logJoint;
    own.logMost += logMost;
    pairs.set(key, own);
  }
  return [...pairs.values()];
}

/** The readings that depend on no unknown ohms; a winding is one whether or not a diode lies across it. */
function readFixed({ codes, count }: FormVariant, nodeOf: Int8Array, pairs: readonly PairRead[]): { fixed: number; most: number } {
  let fixed = 0;
  let most = 0;
  for (const pair of pairs) {
    const first = nodeOf[pair.a]!;
    const second = nodeOf[pair.b]!;
    const code = first < 0 || second < 0 ? CODE.open : codes[((pair.held ? count : 0) + first) * count + second]!;
    if (code === CODE.open) fixed += pair.logOpen;
    else if (code === CODE.joint) fixed += pair.logJoint;
    else most += pair.logMost;
  }
  return { fixed, most: fixed + most };
}

function pickOhmic(variant: FormVariant, nodeOf: Int8Array, readings: readonly BenchReading[]): OhmReadingOf[] {
  return readings.flatMap((reading) => {
    const [one, other] = showReading(variant, nodeOf, reading);
    if (one.kind === 'open' || one.kind === 'joint') return [];
    // A supply whose plus was not noted is as likely one way round as the other.
    return [{ reading, shown: other && other.kind !== one.kind ? nameOhms('either', one.shape, one.factor) : one }];
  });
}

/** The same readings of the same unknowns give the same integral, whatever else the variant is. */
function keyOf({ form, coils }: FormVariant, ohmic: readonly OhmReadingOf[]): string {
  let key = `${Object.keys(form.shares).join()} ${coils.map(({ watts }) => watts).join()}`;
  for (const { reading, shown } of ohmic) key += `|${reading.index}${shown.name}`;
  return key;
}

/** For each point, ln of how well its looks, wires and mark suit each node of a form; the last entry stands for a terminal that nothing is joined to. */
function lookLogs(looks: readonly Look[], kinds: readonly ('heavy' | 'small')[], factors: readonly (readonly number[])[], coilClass: CoilClass): number[][] {
  return looks.map((look, point) => [
    ...kinds.map((kind, node) => Math.log(lookShare(look, kind, coilClass) * factors[point]![node]!)),
    Math.log(settingOf('spareTerminalShare') * lookShare(look, 'small', coilClass)),
  ]);
}

/** ln of how easily the form's nodes that are on no terminal were left out. */
function logMissing(nodeOf: Int8Array, looks: readonly Look[], nodes: number): number {
  const missing = nodes - looks.reduce((used, _, point) => used + (nodeOf[point]! < 0 ? 0 : 1), 0);
  if (missing === 0) return 0;
  // Where terminals are not listed, only those that were touched have a name: the others are there all the same.
  return missing * Math.log(FURTHER_UNLISTED) + (looks.includes('not-said') ? 0 : Math.log(settingOf('unlistedTerminalShare') / FURTHER_UNLISTED));
}

/** A way the form's nodes lie on the terminals, and how many ways it stands for. */
interface NodeMap { readonly nodeOf: Int8Array; readonly ways: number }

/**
 * Every way to put the form's nodes on the terminals, one on one; what is left of either stays free. The case is the case. Nodes of one
 * role are alike (both ends of a plain coil), so that of their orders one stands for all.
 */
function mapTerminals(terminals: number, roles: readonly FormRole[]): NodeMap[] {
  const maps: NodeMap[] = [];
  const nodes = roles.length;
  const spare = Math.max(0, terminals - nodes);
  if (spare > MOST_SPARE) return maps;
  const nodeOf = new Int8Array(terminals + 1).fill(-1);
  nodeOf[terminals] = nodes;
  const taken = new Set<number>();
  const place = (point: number, left: number, ways: number): void => {
    if (point === terminals) {
      maps.push({ nodeOf: Int8Array.from(nodeOf), ways });
      return;
    }
    for (let node = 0; node < nodes; node++) {
      // The first free node of a role stands for all of them.
      if (taken.has(node) || roles.some((role, other) => other < node && role === roles[node] && !taken.has(other))) continue;
      const alike = roles.filter((role, other) => role === roles[node] && !taken.has(other)).length;
      taken.add(node);
      nodeOf[point] = node;
      place(point + 1, left, ways * alike);
      taken.delete(node);
    }
    if (left > 0) {
      nodeOf[point] = -1;
      place(point + 1, left - 1, ways);
    }
  };
  place(0, spare, 1);
  return maps;
}
