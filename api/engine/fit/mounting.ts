import { INSTRUMENT_DEFAULTS, type BenchRecord, type KitItem, type Mounting, type Part, type Placement } from '../../../catalog-schema/index.ts';
import { findPlacement, HoleNeeds, patternKeyOf, type PlacementAnswer } from '../placement/index.ts';
import { settingOf } from '../settings.ts';
import { hasSameTerminals } from './removed-likeness.ts';
import { askMaker, chanceOf, show, type Finding, type Notes, type Reading } from './finding.ts';

/** Finds placements once for each pattern of holes: families of parts share a bracket. */
export class PlacementFinder {
  readonly #found = new Map<string, PlacementAnswer>();
  readonly #machine: BenchRecord['mounting'];
  #needs: HoleNeeds | undefined;

  constructor(machine: BenchRecord['mounting']) {
    this.#machine = machine;
  }

  /** undefined where the record or the part gives no mounting */
  find(part: Part): PlacementAnswer | undefined {
    if (!this.#machine || !part.mounting) return undefined;
    const key = patternKeyOf(part.mounting);
    let answer = this.#found.get(key);
    if (!answer) this.#found.set(key, answer = findPlacement(this.#machine, part.mounting));
    return answer;
  }

  /** New holes that any placement needs at least, or any that is not in doubt; undefined where there is none. A few microseconds; asked where the record gives a mounting. */
  leastNewHoles(mounting: Mounting, surely: boolean): number | undefined {
    if (!this.#machine) return 0;
    this.#needs ??= new HoleNeeds(this.#machine);
    return this.#needs.leastNewHoles(mounting, surely);
  }
}

/** Whether the part goes on the machine's bolts: as it is, turned over, or with new holes. */
export function checkMounting(record: BenchRecord, part: Part, finder: PlacementFinder, notes: Notes): { finding: Finding; placement: Placement | null } {
  const machine = record.mounting;
  const needed = machine ? `${machine.holes.length} ${machine.holes.length === 1 ? 'bolt' : 'bolts'}${machine.boltMm === undefined ? '' : ` of ${show(machine.boltMm)} mm`}` : 'not recorded';
  const offered = part.mounting ? describeHoles(part.mounting.holes) : 'not given';
  const answer = finder.find(part);
  if (!answer) {
    const finding: Finding = {
      criterion: 'mounting', outcome: 'unknown', needed, offered,
      why: machine ? 'the part does not give its mounting holes' : "the machine's bolts are not recorded",
      unsaid: machine !== undefined, fromSetting: describeLikeness(record, part), ...(part.mounting && { like: patternKeyOf(part.mounting) }),
      readings: [machine ? askMaker('mounting holes', part) : { what: "where the machine's bolts are, and how thick", from: 'bench' }],
    };
    return { finding, placement: null };
  }
  for (const line of answer.assumptions) notes.assume(line);
  const { placement } = answer;
  if (placement && placement.newHoles.length > 0) notes.use('newHoleSpacing');
  const minutes = placement ? placement.newHoles.length * settingOf('newHoleMinutes') + (placement.flipped ? settingOf('turnOverMinutes') : 0) : 0;
  return {
    finding: {
      criterion: 'mounting', outcome: answer.outcome, ...(answer.outcome === 'unknown' && { probability: chanceOfRoom(answer, machine?.plusMinusMm, notes) }), needed, offered, why: answer.why, minutes, kit: placement ? listHoles(placement) : [],
      readings: [askForBolts(machine?.plusMinusMm)],
    },
    placement,
  };
}

/** The bolts once more with what is finer than what they were taken with. */
function askForBolts(plusMinusMm: number | undefined): Reading {
  const caliperMm = INSTRUMENT_DEFAULTS.caliper.absolute;
  const how = plusMinusMm !== undefined && plusMinusMm <= 2 * caliperMm ? `to ${show(caliperMm)} mm: with a caliper from edge to edge, more than once` : 'with a caliper instead of a tape';
  return { what: `where the machine's bolts are, ${how}`, from: 'bench' };
}

/**
 * Where the bolts' uncertainty decides: the room at the tightest bolt against a normal error of the bolts, at the odds that a pattern this near
 * is the machine's own: brackets come in few patterns, and a near miss is more often the tape's. Not known where no room was measured.
 */
function chanceOfRoom({ marginMm }: PlacementAnswer, plusMinusMm: number | undefined, notes: Notes): number | undefined {
  if (marginMm === null || plusMinusMm === undefined) return undefined;
  const chance = chanceOf(marginMm, plusMinusMm / 2);
  const odds = notes.use('nearPatternOdds');
  return (odds * chance) / (1 - chance + odds * chance);
}

/** How likely the part goes on bolts that nobody recorded: families share terminals and brackets. */
function describeLikeness(record: BenchRecord, part: Part): Finding['fromSetting'] {
  const alike = hasSameTerminals(record, part);
  return alike === undefined ? 'unboltedHolds' : alike ? 'unboltedAlikeHolds' : 'unboltedUnlikeHolds';
}

function listHoles({ newHoles }: Placement): KitItem[] {
  return newHoles.map((hole) => ({
    item: 'new hole', qty: 1, detail: `${show(hole.diameterMm)} mm in the ${hole.in} at x ${show(hole.xMm, 1)}, y ${show(hole.yMm, 1)} mm of the machine; deburr and paint`,
  }));
}

function describeHoles(holes: readonly { diameterMm: number; slotMm?: number }[]): string {
  if (holes.length === 0) return 'no hole';
  const slots = holes.filter(({ slotMm }) => (slotMm ?? 0) > 0).length;
  const sizes = [...new Set(holes.map(({ diameterMm }) => show(diameterMm)))].join(', ');
  return `${holes.length} ${holes.length === 1 ? 'hole' : 'holes'} of ${sizes} mm${slots > 0 ? `, ${slots} of them slotted` : ''}`;
}
