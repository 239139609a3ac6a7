import type { BenchRecord } from '../../../catalog-schema/index.ts';
import { show, type Finding, type Interval, type Notes } from './finding.ts';
import { copperFactor, type PartFacts } from './part-facts.ts';

/**
 * Whether the hot coil still pulls in at the lowest resting supply, and stays in while cranking.
 * A coil works on ampere-turns, so the voltage it needs grows with its resistance. The plunger moves before the starter loads the battery.
 * Left out where the record says nothing about supply, control path or temperature.
 */
export function checkPullIn(record: BenchRecord, facts: PartFacts, notes: Notes): Finding | null {
  const { nominalV, lowestRestingV, lowestCrankingV, ambientC } = record.system;
  const { controlOhm } = record.demand ?? {};
  if (lowestRestingV === undefined && lowestCrankingV === undefined && controlOhm === undefined && ambientC === undefined) return null;
  if (facts.working.length === 0) return null;

  const resting = lowestRestingV ?? notes.use('restingOfNominal') * nominalV;
  const hotC = (ambientC?.max ?? notes.use('hotAmbientC')) + notes.use('coilRiseK');
  const hot = copperFactor(hotC);
  const drop = controlOhm === undefined ? atOne(notes.use('controlOhm')) : clip(notes.read(controlOhm, 'ohmmeter'));
  const hold = lowestCrankingV === undefined ? undefined : notes.use('holdOfPullIn');

  const needsOhms = drop.high > 0;
  if (needsOhms && facts.working.some((coil) => coil.ohmAt20C === undefined)) {
    return {
      criterion: 'pull-in', outcome: 'unknown', needed: `pulls in at ${show(resting)} V supply, coil at ${show(hotC)} C`, offered: 'coil resistance not given',
      why: 'without the coil resistance the drop in the start circuit is not known', readings: [{ what: 'resistance of the coil of the part on offer', from: 'maker' }],
    };
  }
  const parallel = (coils: PartFacts['coils']): number => (needsOhms ? 1 / coils.reduce((sum, coil) => sum + 1 / (coil.ohmAt20C! * hot), 0) : 1);
  const atCoil = (supply: number, ohm: number, pathOhm: number): number => (supply * ohm) / (ohm + pathOhm);

  const margins = facts.working.map((coil) => (coil.pullInV ?? notes.use('pullInOfNominal') * coil.nominalV) * hot);
  const needsV = Math.max(...margins);
  const allOhm = parallel(facts.working);
  const worst = atCoil(resting, allOhm, drop.high) - needsV;
  const best = atCoil(resting, allOhm, drop.low) - needsV;

  let worstHold = Number.POSITIVE_INFINITY;
  let bestHold = Number.POSITIVE_INFINITY;
  if (hold !== undefined && lowestCrankingV !== undefined) {
    const holdsAt = Math.max(...facts.holding.map((coil) => (coil.pullInV ?? notes.use('pullInOfNominal') * coil.nominalV) * hot * hold));
    const holdOhm = parallel(facts.holding);
    worstHold = atCoil(lowestCrankingV, holdOhm, drop.high) - holdsAt;
    bestHold = atCoil(lowestCrankingV, holdOhm, drop.low) - holdsAt;
  }
  const outcome = Math.min(worst, worstHold) >= -1e-9 ? 'pass' : Math.min(best, bestHold) < -1e-9 ? 'fail' : 'unknown';
  const cranking = hold === undefined ? 'no lowest cranking voltage is recorded, so staying in is not judged'
    : `staying in while cranking at ${show(lowestCrankingV!)} V: ${describeMargin(worstHold)}`;
  return {
    criterion: 'pull-in', outcome,
    needed: `pulls in at ${show(resting)} V supply${lowestCrankingV === undefined ? '' : `, stays in at ${show(lowestCrankingV)} V`}, coil at ${show(hotC)} C`,
    offered: `needs ${show(needsV)} V hot`,
    why: `pulling in: ${describeMargin(worst)}; ${cranking}`,
    readings: [{ what: 'resistance of the start circuit, battery post to coil, with a milliohm method (volts over amps)', from: 'bench' }],
  };
}

function atOne(ohm: number): Interval {
  return { low: ohm, high: ohm };
}

/** A resistance is not negative, however coarse the meter. */
function clip({ low, high }: Interval): Interval {
  return { low: Math.max(0, low), high: Math.max(0, high) };
}

function describeMargin(volts: number): string {
  return volts >= -1e-9 ? `${show(volts)} V to spare` : `${show(-volts)} V short`;
}
