import type { BenchRecord, Criterion } from '../../../catalog-schema/index.ts';
import { settingOf } from '../settings.ts';
import { rulesOutShiftSolenoid } from './contact-form.ts';
import { UNHEARD } from './finding.ts';
import { findOldCoil } from './old-coil.ts';
import { includesSealing } from './surroundings.ts';
import { mayGoOn, type Traits } from './traits.ts';

/** Something that machines ask of their part and that the record does not give. */
export interface Demand {
  readonly criterion: Criterion;
  /** what of a part answers it; undefined where the part does not say */
  readonly answerOf: (own: Traits) => string | number | undefined;
  /** chance that a part meets it if the removed part was `old`, for a part that says; undefined where `old` does not */
  readonly holds: (own: Traits, old: Traits) => number | undefined;
  /** the setting that is its chance if the removed part is none of the catalogue */
  readonly elsewhere: Elsewhere;
}

type Elsewhere = 'removedElsewhereHolds' | 'removedElsewhereEqual' | 'unrecordedHolds' | 'relayHolds' | 'untracedHolds' | 'unboltedHolds';

/**
 * What the record leaves open. The removed part met it all, so each demand lies under the removed part's own rating, or is equal to it
 * where parts have to be equal.
 */
export function listOpenDemands(record: BenchRecord, starter: boolean): Demand[] {
  return [...(starter ? listStarterDemands(record) : listRelayDemands(record)), ...listOuterDemands(record)];
}

/** Whether where its wires led leaves the inner circuit of the removed part open. */
function hasOpenWires({ wires = [] }: BenchRecord): boolean {
  return wires.length === 0 || wires.some(({ leadsTo = 'unknown' }) => leadsTo === 'unknown');
}

function listRelayDemands(record: BenchRecord): Demand[] {
  const { demand = {} } = record;
  const list: Demand[] = [];
  if (demand.inrushA === undefined && demand.from?.starterOhm === undefined) list.push(askRating('contact-inrush', 'inrushA', 'unrecordedHolds'));
  if (demand.continuousA === undefined) list.push(askRating('contact-continuous', 'continuousA', 'removedElsewhereHolds'));
  if (demand.continuousUse !== true && (demand.longestOnS === undefined || demand.continuousUse === undefined)) list.push(askDuty(record));
  if (demand.controlFuseA === undefined && demand.controlRatingA === undefined && !findOldCoil(record, UNHEARD)) {
    const [from, to] = [settingOf('removedAmpsSure'), settingOf('removedAmpsMost')];
    list.push({
      criterion: 'coil-current', elsewhere: 'removedElsewhereHolds', answerOf: ({ holdOhm }) => holdOhm,
      holds: (own, old) => (old.holdOhm === undefined ? undefined : limit((to - old.holdOhm / own.holdOhm!) / (to - from))),
    });
  }
  if (record.partClass === undefined && !rulesOutShiftSolenoid(record)) {
    list.push({ criterion: 'contact-form', elsewhere: 'relayHolds', answerOf: ({ partClass }) => partClass, holds: (own, old) => Number((own.partClass === 'shift-solenoid') === (old.partClass === 'shift-solenoid')) });
  }
  if (hasOpenWires(record)) list.push(askWiring((own, old) => settingOf(own.wiring === old.wiring ? 'removedWiringAlike' : 'removedWiringUnlike')));
  return list;
}

function listStarterDemands({ starter = {}, wires = [] }: BenchRecord): Demand[] {
  const list: Demand[] = [];
  const equal = (criterion: Criterion, key: 'rotation' | 'pinionTeeth' | 'pinionModuleMm' | 'noseMm', apart: number): void => {
    if (starter[key] !== undefined) return;
    list.push({ criterion, elsewhere: 'removedElsewhereEqual', answerOf: (own) => own.starter[key], holds: (own, old) => (old.starter[key] === undefined ? undefined : Number(isEqual(own.starter[key], old.starter[key], apart))) });
  };
  equal('rotation', 'rotation', 0);
  equal('pinion', 'pinionTeeth', 0);
  equal('pinion', 'pinionModuleMm', settingOf('pinionModuleMm'));
  equal('nose', 'noseMm', settingOf('noseMm'));
  if (starter.powerKw === undefined) {
    const least = settingOf('removedPowerShare');
    list.push({ criterion: 'power', elsewhere: 'removedElsewhereHolds', answerOf: (own) => own.starter.powerKw, holds: (own, old) => (old.starter.powerKw === undefined ? undefined : limit((own.starter.powerKw! / old.starter.powerKw - least) / (1 - least))) });
  }
  // One with a solenoid of its own does not take the place of one without, nor the other way about.
  if (!wires.some(({ leadsTo }) => leadsTo === 'start-switch')) list.push(askWiring((own, old) => Number((own.wiring === 'no coil') === (old.wiring === 'no coil'))));
  return list;
}

function listOuterDemands(record: BenchRecord): Demand[] {
  const list: Demand[] = [];
  if (!record.mounting) {
    const loose = settingOf('removedLooseMm');
    list.push({
      criterion: 'mounting', elsewhere: 'unboltedHolds', answerOf: ({ pattern }) => pattern?.key,
      holds: ({ pattern }, old) => (!old.pattern ? undefined : settingOf(mayGoOn(pattern!, old.pattern, loose) ? 'removedBoltsAlike'
        : pattern!.drillable ? 'removedBoltsDrilled' : pattern!.count === old.pattern.count ? 'removedBoltsApart' : 'removedBoltsOther')),
    });
  }
  if (!record.space) {
    const room = settingOf('removedRoomMm');
    const goesIn = (own: number, old: number): number => limit(1 - (own - old) / room);
    list.push({
      criterion: 'space', elsewhere: 'removedElsewhereHolds', answerOf: ({ body }) => body && `${body.longMm} ${body.shortMm} ${body.highMm}`,
      holds: ({ body }, old) => old.body && goesIn(body!.longMm, old.body.longMm) * goesIn(body!.shortMm, old.body.shortMm) * goesIn(body!.highMm, old.body.highMm),
    });
  }
  if (record.demand?.minSealing === undefined) {
    list.push({ criterion: 'sealing', elsewhere: 'removedElsewhereHolds', answerOf: ({ sealing }) => sealing, holds: (own, old) => (old.sealing === undefined ? undefined : includesSealing(own.sealing!, old.sealing) ? 1 : settingOf('removedSealingLess')) });
  }
  if (!record.system.ambientC) {
    const [coldC, hotC, range] = [settingOf('removedColdC'), settingOf('removedHotC'), settingOf('removedRangeC')];
    list.push({
      criterion: 'ambient', elsewhere: 'removedElsewhereHolds', answerOf: ({ ambientC }) => ambientC && `${ambientC.min} ${ambientC.max}`,
      holds: ({ ambientC }, old) => old.ambientC
        && limit(1 - (ambientC!.min - Math.max(coldC, old.ambientC.min)) / range) * limit(1 - (Math.min(hotC, old.ambientC.max) - ambientC!.max) / range),
    });
  }
  return list;
}

/** Machines ask evenly between a share of the removed part's rating and all of it. */
function askRating(criterion: Criterion, key: 'inrushA' | 'continuousA', elsewhere: Elsewhere): Demand {
  const least = settingOf('removedRatingShare');
  return { criterion, elsewhere, answerOf: (own) => own[key], holds: (own, old) => (old[key] === undefined ? undefined : limit((own[key]! / old[key] - least) / (1 - least))) };
}

function askDuty({ demand = {} }: BenchRecord): Demand {
  const [least, most, cranking] = [settingOf('removedDutyShare'), settingOf('removedDutyMostS'), settingOf('longestOnS')];
  return {
    criterion: 'coil-duty', elsewhere: 'removedElsewhereHolds', answerOf: ({ dutyS }) => dutyS,
    holds: (own, old) => {
      if (own.dutyS === Number.POSITIVE_INFINITY) return 1;
      if (old.dutyS === undefined) return undefined;
      const mayStayOn = demand.continuousUse === undefined && old.dutyS === Number.POSITIVE_INFINITY;
      const isCranking = mayStayOn ? 1 - settingOf(old.partClass === 'contactor' ? 'removedContactorStaysOn' : 'removedStaysOn') : 1;
      if (demand.longestOnS !== undefined) return isCranking;
      const longest = old.dutyS < 0 ? most : Math.min(most, old.dutyS);
      return isCranking * limit(((own.dutyS! < 0 ? cranking : own.dutyS!) / longest - least) / (1 - least));
    },
  };
}

function askWiring(holds: (own: Traits, old: Traits) => number): Demand {
  return { criterion: 'wiring', elsewhere: 'untracedHolds', answerOf: ({ wiring }) => wiring, holds };
}

function isEqual(a: string | number | undefined, b: string | number | undefined, apart: number): boolean {
  return typeof a === 'number' && typeof b === 'number' ? Math.abs(a - b) <= apart + 1e-9 : a === b;
}

function limit(chance: number): number {
  return Math.min(1, Math.max(0, chance));
}
