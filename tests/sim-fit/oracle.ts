import type { CoilElement, Criterion, Fit, Part, Prices } from '../../catalog-schema/index.ts';
import { findWirings } from './find-wirings.ts';
import { heavyContactOf, judgeWiring, type Broken, type Hung, type Outside } from './judge-wiring.ts';
import { passesAsIs, placeBracket, type BoltPattern, type Goes } from './place-bolts.ts';
import { ringGoesOn } from './threads-known.ts';
import { isTight, landOne, priceWork, workOfMounting, workOfWiring, type Work } from './true-cost.ts';
import type { Machine } from './truth.ts';

// Knows what is true of machine and part, and says for each part whether it really works on this machine and what that costs at least.

/** A demand or a rating, and how far the one is over the other: above 1 the data sheet does not cover it. */
export interface Overload { readonly criterion: Criterion; readonly ratio: number }

export interface TrueFit {
  /** criteria that do not hold with any wiring and placement; none: the part works */
  readonly broken: readonly Criterion[];
  readonly overloads: readonly Overload[];
  /** least true cost of having the machine running with it; undefined where it does not work or nobody sells it */
  readonly cost: number | undefined;
}

const COPPER_PER_K = 0.00393;
const HOLD_OF_PULL_IN = 0.6;
const NOSE_MM = 0.5;

/** The truth about parts on one machine; remembers brackets and wirings between parts. */
export class Oracle {
  readonly machine: Machine;
  readonly #prices: Prices;
  readonly #pattern: BoltPattern;
  readonly #goes = new Map<string, Goes | undefined>();
  readonly #known = new Map<string, TrueFit>();

  constructor(machine: Machine, prices: Prices) {
    this.machine = machine;
    this.#prices = prices;
    this.#pattern = machine;
  }

  judge(part: Part): TrueFit {
    const known = this.#known.get(part.id);
    if (known) return known;
    const fit = this.#judge(part);
    this.#known.set(part.id, fit);
    return fit;
  }

  /** Whether the part would work done as this answer says: what is broken with the stated wiring, placement and lugs. */
  judgeStated(part: Part, fit: Fit): Criterion[] {
    const { broken } = judgeByItself(this.machine, part);
    const all = new Set(broken);
    if (!this.#isMountedAs(part, fit)) all.add('mounting');
    if (isWired(this.machine, part)) {
      const hung = fit.rewire ? hungOf(fit.rewire) : undefined;
      if (hung) {
        for (const criterion of nameBroken(part, judgeWiring(part, outsideOf(this.machine, part), hung))) all.add(criterion);
        for (const criterion of looseEnds(this.machine, part, hung, fit)) all.add(criterion);
      } else for (const criterion of this.judge(part).broken) all.add(criterion);
    } else if (fit.checks.some(({ criterion, outcome }) => criterion === 'stud' && outcome === 'pass') && !this.machine.wires.every(({ end }) => end.form === 'ring' && ringGoesOn(end.holeMm, part.terminals[0]!.thread))) {
      all.add('stud');
    }
    return [...all];
  }

  #judge(part: Part): TrueFit {
    const { machine } = this;
    const { broken, overloads } = judgeByItself(machine, part);
    if (broken.length > 0) return { broken, overloads, cost: undefined };
    const goes = this.#place(part);
    if (!goes) return { broken: ['mounting'], overloads, cost: undefined };
    const mounting = workOfMounting(goes);
    const wirings = isWired(machine, part) ? this.#listWirings(part) : [{ minutes: 0, kit: [] }];
    if (wirings.length === 0) return { broken: ['wiring'], overloads, cost: undefined };
    const landed = landOne(part.id, this.#prices);
    const cost = landed === undefined ? undefined : landed + Math.min(...wirings.map((work) => priceWork([mounting, work], this.#prices)));
    return { broken: [], overloads, cost };
  }

  /** The least costly wirings that are right with the true values, as work. */
  #listWirings(part: Part): Work[] {
    const outside = outsideOf(this.machine, part);
    const ranked = findWirings(part, outside).map((hung) => ({ hung, work: workOfWiring(this.machine, part, hung) }))
      .map((each) => ({ ...each, price: priceWork([each.work], this.#prices) })).toSorted((a, b) => a.price - b.price || a.work.minutes - b.work.minutes);
    const right = ranked.find(({ hung }) => judgeWiring(part, outside, hung, true).size === 0);
    return right ? [right.work] : [];
  }

  #place(part: Part): Goes | undefined {
    const key = JSON.stringify(part.mounting);
    if (!this.#goes.has(key)) this.#goes.set(key, placeBracket(this.#pattern, part.mounting!));
    return this.#goes.get(key);
  }

  #isMountedAs(part: Part, { placement }: Fit): boolean {
    if (!placement) return this.#place(part) !== undefined;
    if (placement.newHoles.length === 0) return passesAsIs(this.#pattern, part.mounting!, placement.flipped);
    const goes = this.#place(part);
    return goes !== undefined && goes.newHoles <= placement.newHoles.length;
  }
}

export function outsideOf(machine: Machine, part: Part): Outside {
  return {
    nominalV: machine.nominalV, interlocks: machine.interlocks, controlOhm: machine.controlOhm, limitA: machine.fuseA,
    caseTied: machine.panelGrounded && part.mounting!.conductive === true, wires: machine.wires.map(({ tag, goal }) => ({ tag, goal })),
  };
}

/** A starter without a solenoid hangs on its one cable; everything else is wired. */
function isWired({ partClass }: Machine, part: Part): boolean {
  return partClass !== 'starter-motor' || part.circuit.some(({ kind }) => kind === 'coil');
}

function hungOf(plan: NonNullable<Fit['rewire']>): Hung {
  return { places: new Map([...plan.wires.map(({ tag, to }): [string, string] => [tag, to]), ...plan.leftOff.map((tag): [string, null] => [tag, null])]), jumpers: plan.jumpers };
}

function nameBroken(part: Part, broken: ReadonlySet<Broken>): Criterion[] {
  const diode = part.circuit.some(({ kind }) => kind === 'diode');
  return [...broken].map((each): Criterion => (each === 'interlock' || each === 'return-on-case' ? 'interlock' : diode && (each === 'dead' || each === 'over-current') ? 'polarity' : 'wiring'));
}

/** Ends that would sit loose or not go on, and that the answer does not renew. */
function looseEnds(machine: Machine, part: Part, { places }: Hung, fit: Fit): Criterion[] {
  const outcomeOf = (criterion: Criterion) => fit.checks.find((check) => check.criterion === criterion)?.outcome;
  const renewed = new Set(fit.rewire?.wires.filter(({ newEnd }) => newEnd).map(({ tag }) => tag));
  const loose = new Set<Criterion>();
  for (const { tag, end } of machine.wires) {
    const terminal = part.terminals.find(({ id }) => id === places.get(tag));
    if (!terminal || renewed.has(tag)) continue;
    if (terminal.form === 'stud' && end.form === 'ring' && !ringGoesOn(end.holeMm, terminal.thread) && outcomeOf('stud') === 'pass') loose.add('stud');
    if (terminal.form === 'tab' && !isTight(end, terminal) && outcomeOf('tab') === 'pass') loose.add('tab');
  }
  return [...loose];
}

/** All that does not hang on wires and bolts. */
function judgeByItself(machine: Machine, part: Part): { broken: Criterion[]; overloads: Overload[] } {
  const broken = machine.partClass === 'starter-motor' ? judgeStarter(machine, part) : [];
  const overloads: Overload[] = [];
  if (machine.partClass !== 'starter-motor') judgeRelay(machine, part, broken, overloads);
  const { room } = machine;
  const body = part.body!;
  const inside = body.heightMm <= room.heightMm && ((body.lengthMm <= room.lengthMm && body.widthMm <= room.widthMm) || (body.widthMm <= room.lengthMm && body.lengthMm <= room.widthMm));
  if (!inside) broken.push('space');
  if (!isSealed(part.sealing!, machine.minSealing)) broken.push('sealing');
  if (part.ambientC!.min > machine.ambient.min || part.ambientC!.max < machine.ambient.max) broken.push('ambient');
  return { broken, overloads };
}

function judgeRelay(machine: Machine, part: Part, broken: Criterion[], overloads: Overload[]): void {
  const heavy = heavyContactOf(part);
  const shift = machine.partClass === 'shift-solenoid';
  if (part.partClass === 'starter-motor' || !heavy || heavy.form !== 'NO' || heavy.coils.length === 0 || (part.partClass === 'shift-solenoid') !== shift) {
    broken.push('contact-form');
    return;
  }
  const coils = part.circuit.filter((element): element is CoilElement => element.kind === 'coil' && heavy.coils.includes(element.id));
  // Once the contact is closed a pull-in winding has no voltage left.
  const holding = coils.filter(({ between }) => !between.some((node) => heavy.between.includes(node)));
  if (coils.some(({ nominalV }) => nominalV !== machine.nominalV)) broken.push('coil-voltage');
  if (holding.some((coil) => !bearsDuty(machine, coil))) broken.push('coil-duty');

  const cold = 1 + COPPER_PER_K * (machine.ambient.min - 20);
  const resistors = part.circuit.reduce((sum, element) => (element.kind === 'resistor' ? sum + machine.highestV / element.ohm : sum), 0);
  const amps = holding.reduce((sum, coil) => sum + machine.highestV / (coil.ohmAt20C! * cold), resistors);
  overloads.push({ criterion: 'coil-current', ratio: amps / Math.min(machine.fuseA, machine.contactA) });
  overloads.push({ criterion: 'contact-inrush', ratio: machine.inrushA / heavy.inrushA! });
  overloads.push({ criterion: 'contact-continuous', ratio: machine.continuousA / heavy.continuousA! });
  for (const { criterion, ratio } of overloads) if (ratio > 1) broken.push(criterion);

  const hot = 1 + COPPER_PER_K * (machine.ambient.max + machine.coilRiseK - 20);
  const atCoil = (supply: number, some: readonly CoilElement[]): number => {
    const ohm = 1 / some.reduce((sum, coil) => sum + 1 / (coil.ohmAt20C! * hot), 0);
    return supply * ohm / (ohm + machine.controlOhm);
  };
  const needs = Math.max(...coils.map(({ pullInV }) => pullInV! * hot));
  if (atCoil(machine.restingV, coils) < needs || atCoil(machine.crankingV, holding) < HOLD_OF_PULL_IN * Math.max(...holding.map(({ pullInV }) => pullInV! * hot))) broken.push('pull-in');
}

function bearsDuty({ continuousUse, onS }: Machine, { duty }: CoilElement): boolean {
  if (duty!.type === 'continuous') return true;
  return !continuousUse && (duty as { maxOnS: number }).maxOnS >= onS;
}

function judgeStarter(machine: Machine, part: Part): Criterion[] {
  if (part.partClass !== 'starter-motor') return ['rotation'];
  const [needed, own] = [machine.starter!, part.starter!];
  const broken: Criterion[] = [];
  if (own.nominalV !== machine.nominalV) broken.push('voltage');
  if (own.rotation !== needed.rotation) broken.push('rotation');
  if (own.pinionTeeth !== needed.pinionTeeth || Math.abs(own.pinionModuleMm! - needed.pinionModuleMm!) > 0.01) broken.push('pinion');
  if (own.powerKw! < needed.powerKw!) broken.push('power');
  if (Math.abs(own.noseMm! - needed.noseMm!) > NOSE_MM) broken.push('nose');
  const carries = (each: Part): boolean => each.circuit.some(({ kind }) => kind === 'coil');
  // Where the machine relies on the solenoid of its starter, a bare motor would sit on the battery; where it has a relay, a solenoid gets no feed.
  if (carries(part) !== carries(machine.old.truth)) broken.push('wiring');
  return broken;
}

/** IEC 60529: each digit as high, and immersion is no protection against jets. */
function isSealed(given: string, asked: string): boolean {
  const [solid, water] = [Number(given[2]), Number(given[3])];
  const [askedSolid, askedWater] = [Number(asked[2]), Number(asked[3])];
  return solid >= askedSolid && (water >= 7 && (askedWater === 5 || askedWater === 6) ? false : water >= askedWater);
}
