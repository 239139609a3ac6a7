import type { BenchRecord, CoilElement, Part } from '../../../catalog-schema/index.ts';
import { CIRCUIT_CONSTANTS } from '../circuit/index.ts';
import { copperFactor, type PartFacts } from '../part-facts.ts';
import { ASK_CONTROL_OHM, askMaker, chanceOf, show, START_CIRCUIT, type Finding, type Notes } from './finding.ts';

/**
 * Whether the hot coil still pulls in at the lowest resting supply, and stays in while cranking; both margins in volts.
 * A coil works on ampere-turns, so the voltage it needs grows with its resistance. The plunger moves before the starter loads the battery.
 * Left out where the record says nothing about supply, control path or temperature.
 */
export function checkPullIn(record: BenchRecord, part: Part, facts: PartFacts, notes: Notes): Finding | null {
  const { nominalV, lowestRestingV, lowestCrankingV, ambientC } = record.system;
  const { controlOhm } = record.demand ?? {};
  if (lowestRestingV === undefined && lowestCrankingV === undefined && controlOhm === undefined && ambientC === undefined) return null;
  if (facts.working.length === 0) return null;

  const resting = lowestRestingV ?? notes.use('restingOfNominal') * nominalV;
  const hotC = (ambientC?.max ?? notes.use('hotAmbientC')) + notes.use('coilRiseK');
  const hot = copperFactor(hotC);
  const path = controlOhm === undefined ? certain(notes.use('controlOhm')) : notes.read(controlOhm, 'ohmmeter');
  const needed = `pulls in at ${show(resting)} V supply${lowestCrankingV === undefined ? '' : `, stays in at ${show(lowestCrankingV)} V`}, coil at ${show(hotC)} C`;

  const needsOhms = path.high > 0;
  if (needsOhms && facts.working.some((coil) => coil.ohmAt20C === undefined)) {
    return {
      criterion: 'pull-in', outcome: 'unknown', needed, offered: 'coil resistance not given',
      why: 'without the coil resistance the drop in the start circuit is not known', unsaid: true, hangsOn: 'coil resistance', readings: [askMaker('resistance of the coil', part)],
    };
  }
  const hotPullInOf = (coils: readonly CoilElement[]): number => Math.max(...coils.map((coil) => (coil.pullInV ?? notes.use('pullInOfNominal') * coil.nominalV) * hot));
  const needsV = hotPullInOf(facts.working);
  const demands = [new CoilDemand(part, facts.working, hot, resting, needsV)];
  if (lowestCrankingV !== undefined) demands.push(new CoilDemand(part, facts.holding, hot, lowestCrankingV, hotPullInOf(facts.holding) * notes.use('holdOfPullIn')));

  const [pulling, holding] = demands.map((each) => each.spareAt(Math.max(0, path.high)));
  const best = Math.min(...demands.map((each) => each.spareAt(Math.max(0, path.low))));
  const worst = Math.min(pulling!, holding ?? Number.POSITIVE_INFINITY);
  const cranking = holding === undefined ? 'no lowest cranking voltage is recorded, so staying in is not judged'
    : `staying in while cranking at ${show(lowestCrankingV!)} V: ${describeMargin(holding)}`;
  return {
    criterion: 'pull-in', outcome: worst >= -1e-9 ? 'pass' : best < -1e-9 ? 'fail' : 'unknown', needed,
    offered: `needs ${show(needsV)} V hot`, why: `pulling in: ${describeMargin(pulling!)}; ${cranking}`,
    // What is not sure is the start circuit's resistance: the most that leaves every demand met decides.
    ...(path.high > path.low && { hangsOn: START_CIRCUIT, probability: chanceOf(Math.min(...demands.map((each) => each.mostPathOhm())) - path.value, (path.high - path.low) / 4) }),
    readings: [ASK_CONTROL_OHM],
  };
}

/** Coils, hot, fed over a control path: whether they get the voltage they need. */
class CoilDemand {
  readonly #supplyV: number;
  readonly #needsV: number;
  /** hot coils and the resistors across them in parallel; infinite where a coil does not say: then nothing is lost on the path */
  readonly #ohm: number;

  constructor(part: Part, coils: readonly CoilElement[], hot: number, supplyV: number, needsV: number) {
    this.#supplyV = supplyV - Math.max(0, ...coils.map((coil) => countSeriesDiodes(part, coil))) * CIRCUIT_CONSTANTS.diodeV.value;
    this.#needsV = needsV;
    const siemens = coils.reduce((sum, coil) => sum + (coil.ohmAt20C === undefined ? 0 : 1 / (coil.ohmAt20C * hot)), 0) + resistorSiemens(part, coils);
    this.#ohm = siemens > 0 ? 1 / siemens : Number.POSITIVE_INFINITY;
  }

  /** Volts to spare at a path resistance; negative: volts short. */
  spareAt(pathOhm: number): number {
    return (pathOhm === 0 ? this.#supplyV : this.#supplyV / (1 + pathOhm / this.#ohm)) - this.#needsV;
  }

  /** The greatest path resistance at which nothing is short; negative where even a path of nothing is too much. */
  mostPathOhm(): number {
    return this.#ohm * (this.#supplyV / this.#needsV - 1);
  }
}

/** Diodes between an end of the coil and the rest of the part: the coil goes without their forward voltage. */
function countSeriesDiodes({ circuit, inside = [] }: Part, { between }: CoilElement): number {
  return circuit.filter((element) => element.kind === 'diode' && [element.from, element.to].some((node) => between.includes(node) && inside.includes(node))
    && !(between.includes(element.from) && between.includes(element.to))).length;
}

function resistorSiemens({ circuit }: Part, coils: readonly CoilElement[]): number {
  return circuit.reduce((sum, element) => (element.kind === 'resistor' && coils.some(({ between }) => element.between.every((node) => between.includes(node)))
    ? sum + 1 / Math.max(element.ohm, 1e-6) : sum), 0);
}

function certain(ohm: number): { value: number; low: number; high: number } {
  return { value: ohm, low: ohm, high: ohm };
}

function describeMargin(volts: number): string {
  return volts >= -1e-9 ? `${show(volts)} V to spare` : `${show(-volts)} V short`;
}
