import { intervalOf, isRingGap, type BenchRecord, type Part, type RecordTerminal, type Terminal, type WireEnd } from '../../../catalog-schema/index.ts';
import { copperFactor, threadOf } from '../part-facts.ts';
import { settingOf } from '../settings.ts';
import { UNHEARD, type Interval } from './finding.ts';
import { findInrushDemand } from './inrush-demand.ts';
import type { Member } from './kin.ts';
import type { NumberEvidence } from './marked-number.ts';
import { findOldCoil } from './old-coil.ts';
import { hasSameTerminals } from './removed-likeness.ts';
import { includesSealing } from './surroundings.ts';
import { mayGoOn, patternOf, type Traits } from './traits.ts';

type Weigh = (member: Member) => number;

/** How well the record speaks for each part as the removed one: 1 where all agrees, less for each thing that does not. */
export interface RemovedEvidence {
  readonly weigh: Weigh;
  /** what a part agrees by chance, over all kinds of reading that tell parts apart */
  readonly byChance: number;
}

/** Whatever the record gives is made ready once; each part then takes some microseconds. */
export function gatherRemovedEvidence(record: BenchRecord, numbers: ReadonlyMap<string, NumberEvidence>): RemovedEvidence {
  const { demand = {}, system, space, starter } = record;
  const inrush = findInrushDemand(record, UNHEARD);
  const continuous = demand.continuousA === undefined ? undefined : intervalOf(demand.continuousA, 'clamp');
  const coil = findOldCoil(record, UNHEARD);
  const byKind = [
    weighTerminals(record), record.mounting && weighBolts(record.mounting), space && weighRoom(space), coil && weighCoil(coil),
    inrush && weighRating('inrushA', inrush), continuous && weighRating('continuousA', continuous), starter && weighStarter(starter),
  ];
  const factors: Weigh[] = [...byKind.flatMap((each) => each ?? []), weighWires(record), weighUse(record)];
  const carried = settingOf('removedNumber');
  const claimed = settingOf('removedClaim');
  return {
    weigh: (member) => {
      const { traits, part } = member;
      if (traits.nominalV.some((volts) => Math.abs(volts - system.nominalV) > 1e-9)) return 0;
      const number = numbers.get(part.id);
      let weight = number === undefined ? 1 : number.trust === 'ownNumberTrust' && number.words.startsWith('carries') ? carried : claimed;
      for (const factor of factors) weight *= factor(member);
      return weight;
    },
    byChance: settingOf('removedByChance') ** byKind.filter((each) => each !== undefined).length,
  };
}

/** Sizes and forms, places, names and marks of the terminals; and of each wire's end that some terminal takes it. Undefined where none was looked at. */
function weighTerminals(record: BenchRecord): Weigh | undefined {
  const { terminals = [], wires = [] } = record;
  if (terminals.length === 0 && wires.length === 0) return undefined;
  const [wrong, odd, other, placeMm] = [settingOf('removedWrong'), settingOf('removedOdd'), settingOf('removedOther'), settingOf('removedPlaceMm')];
  const used = new Set(wires.map(({ wasOn }) => wasOn).filter((id) => id !== 'case'));
  const named = new Set([...used, ...terminals.map(({ id }) => id)]);
  const ends = wires.flatMap(({ end }) => end ?? []);
  const weigh = (part: Part): number => {
    const own = part.terminals;
    let weight = hasSameTerminals(record, part) === false || used.size > own.length ? wrong : 1;
    if (![...named].every((name) => own.some(({ id }) => id === name))) weight *= other;
    for (const end of ends) if (!own.some((each) => takesEnd(each, end))) weight *= odd;
    for (const old of terminals) weight *= (isMarkedOtherwise(old, own) ? other : 1) * (isElsewhere(old, own, placeMm) ? other : 1);
    return weight;
  };
  // Families share their terminals.
  const known = new Map<string, number>();
  return ({ part }) => {
    const key = JSON.stringify(part.terminals);
    let weight = known.get(key);
    if (weight === undefined) known.set(key, weight = weigh(part));
    return weight;
  };
}

function isMarkedOtherwise({ marking }: RecordTerminal, own: readonly Terminal[]): boolean {
  return marking !== undefined && own.some((each) => each.marking !== undefined) && !own.some((each) => each.marking === marking);
}

function isElsewhere({ at, form }: RecordTerminal, own: readonly Terminal[], placeMm: number): boolean {
  const placed = own.filter((each) => each.form === form && each.at);
  return at !== undefined && placed.length > 0 && placed.every((each) => Math.hypot(each.at!.xMm - at.xMm, each.at!.yMm - at.yMm) > placeMm);
}

function takesEnd(own: Terminal, end: WireEnd): boolean {
  switch (end.form) {
    case 'ring': {
      const thread = threadOf(own);
      return (own.form === 'stud' || own.form === 'screw') && (!thread || isRingGap(end.holeMm - thread.majorMm));
    }
    case 'receptacle': return own.form === 'tab' && (own.tabWidthMm === undefined || Math.abs(own.tabWidthMm - end.tabWidthMm) <= settingOf('tabWidthMm') + 1e-9);
    case 'bare': return own.form === 'lead' || own.form === 'pin' || own.form === 'screw';
    default: throw new Error(`wire end ${String(end satisfies never)} is not known`);
  }
}

function weighBolts({ holes, plusMinusMm = 0 }: NonNullable<BenchRecord['mounting']>): Weigh {
  const [wrong, unsaid] = [settingOf('removedWrong'), settingOf('removedUnsaid')];
  const bolts = patternOf({ holes });
  const loose = settingOf('removedLooseMm') + 2 * plusMinusMm;
  return ({ traits: { pattern } }) => (!pattern ? unsaid : mayGoOn(pattern, bolts, loose) ? 1 : wrong);
}

/** The room is what the removed body needed and some more: the more, the less likely. */
function weighRoom({ lengthMm, widthMm, heightMm }: NonNullable<BenchRecord['space']>): Weigh {
  const [wrong, unsaid, spare] = [settingOf('removedWrong'), settingOf('removedUnsaid'), settingOf('removedRoomMm')];
  const [long, short] = [Math.max(lengthMm, widthMm), Math.min(lengthMm, widthMm)];
  const weigh = (roomMm: number, bodyMm: number): number => (roomMm < bodyMm - 2 ? wrong : Math.exp(-Math.max(0, roomMm - bodyMm) / spare));
  return ({ traits: { body } }) => (body ? weigh(long, body.longMm) * weigh(short, body.shortMm) * weigh(heightMm, body.highMm) : unsaid);
}

/** Coils of one make differ by a few per cent: log-normal about the reading. */
function weighCoil({ low, high }: Interval): Weigh {
  const [wrong, unsaid] = [settingOf('removedWrong'), settingOf('removedUnsaid')];
  const mean = Math.log(low * high) / 2;
  const sigma = Math.hypot(settingOf('removedCoilSpread'), Math.log(high / low) / 4);
  return ({ traits: { holdOhm } }) => (holdOhm === undefined ? unsaid : Math.exp(-(((Math.log(holdOhm) - mean) / sigma) ** 2) / 2) + wrong);
}

/** A demand even between a share of the rating and all of it: its density falls with the rating. */
function weighRating(key: 'inrushA' | 'continuousA', { low, high }: Interval): Weigh {
  const [wrong, other, unsaid, least] = [settingOf('removedWrong'), settingOf('removedOther'), settingOf('removedUnsaid'), settingOf('removedRatingShare')];
  const asked = Number.isFinite(high) ? (low + high) / 2 : low;
  return ({ traits }) => {
    const rated = traits[key];
    if (rated === undefined) return unsaid;
    const share = asked / rated;
    return share > 1.03 ? wrong : share < least ? other * share : share;
  };
}

function weighStarter(old: NonNullable<BenchRecord['starter']>): Weigh {
  const [wrong, unsaid] = [settingOf('removedWrong'), settingOf('removedUnsaid')];
  const equal = (a: string | number | undefined, b: string | number | undefined, apart: number): number =>
    (a === undefined ? 1 : b === undefined ? unsaid : (typeof a === 'number' && typeof b === 'number' ? Math.abs(a - b) <= apart + 1e-9 : a === b) ? 1 : wrong);
  return ({ traits: { starter: own } }) => equal(old.rotation, own.rotation, 0) * equal(old.pinionTeeth, own.pinionTeeth, 0)
    * equal(old.pinionModuleMm, own.pinionModuleMm, settingOf('pinionModuleMm')) * equal(old.noseMm, own.noseMm, settingOf('noseMm'))
    * (old.powerKw === undefined ? 1 : own.powerKw === undefined ? unsaid : own.powerKw < old.powerKw - 1e-9 ? wrong : old.powerKw / own.powerKw);
}

/** Where the wires led tells a coil to the case from one that stands apart, and whether a second contact fed a wire. */
function weighWires({ wires = [] }: BenchRecord): Weigh {
  const [wrong, odd] = [settingOf('removedWrong'), settingOf('removedOdd')];
  const leads = (to: string): boolean => wires.some(({ leadsTo }) => leadsTo === to);
  const isTraced = wires.length > 0 && wires.every(({ leadsTo = 'unknown' }) => leadsTo !== 'unknown');
  const hasReturn = wires.some(({ leadsTo, wasOn }) => leadsTo === 'interlocked-return' || (leadsTo === 'chassis' && wasOn !== 'case'));
  const [hasFeed, hasStart] = [leads('cranking-feed'), leads('start-switch')];
  return ({ traits: { wiring } }) => {
    if (wiring === 'no coil') return hasStart ? wrong : 1;
    const feeds = wiring.endsWith('feeds');
    const toCase = wiring.startsWith('coil to case');
    return (hasFeed && !feeds ? wrong : isTraced && feeds && !hasFeed ? odd : 1) * ((hasReturn && toCase) || (isTraced && !hasReturn && !hasFeed && !toCase) ? odd : 1);
  };
}

/** How it was used, and what it drew: it bore what is recorded. */
function weighUse({ demand = {}, system }: BenchRecord): Weigh {
  const [wrong, other] = [settingOf('removedWrong'), settingOf('removedOther')];
  const { longestOnS = 0, continuousUse, controlFuseA, minSealing } = demand;
  const needsS = continuousUse === true ? Number.POSITIVE_INFINITY : longestOnS;
  const volts = system.highestV ?? settingOf('highestOfNominal') * system.nominalV;
  const cold = copperFactor(system.ambientC?.min ?? settingOf('coldCoilC'));
  const ambient = system.ambientC;
  return ({ traits }) => {
    let weight = traits.dutyS !== undefined && traits.dutyS >= 0 && traits.dutyS < needsS ? wrong : 1;
    if (controlFuseA !== undefined && traits.holdOhm !== undefined) {
      const spare = (controlFuseA * traits.holdOhm * cold) / volts;
      weight *= spare < 1 ? wrong : spare > settingOf('removedFuseMost') ? other : 1;
    }
    if (minSealing !== undefined && traits.sealing !== undefined && !includesSealing(traits.sealing, minSealing)) weight *= wrong;
    return isOutside(traits, ambient) ? weight * wrong : weight;
  };
}

function isOutside({ ambientC }: Traits, asked: { min: number; max: number } | undefined): boolean {
  return asked !== undefined && ambientC !== undefined && (ambientC.min > asked.min || ambientC.max < asked.max);
}
