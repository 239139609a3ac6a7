import type { BenchRecord, Part } from '../../../catalog-schema/index.ts';
import { settingOf, type SettingName } from '../settings.ts';
import type { Notes } from './finding.ts';
import { hasSameTerminals } from './removed-likeness.ts';

/**
 * The barer a record, the likelier the machine asks something that nobody wrote down. How much of what is always wanted of a part it gives:
 * the bolts, where each wire leads and its end; of a starter its own data instead of where the wires lead. 1 where nothing of it is missing.
 */
export function shareRecorded(record: BenchRecord, starter: boolean): number {
  const { wires = [], starter: data = {} } = record;
  const shareOf = (given: number, all: number): number => (all === 0 ? 0 : given / all);
  const traced = shareOf(wires.filter(({ leadsTo = 'unknown' }) => leadsTo !== 'unknown').length, wires.length);
  const own = (['rotation', 'pinionTeeth', 'pinionModuleMm', 'powerKw', 'noseMm'] as const).filter((key) => data[key] !== undefined).length / 5;
  const ended = shareOf(wires.filter(({ end }) => end !== undefined).length, wires.length);
  return ((record.mounting ? 1 : 0) + (starter ? own : traced) + ended) / 3;
}

/** The chance that a part holds whatever nobody wrote down: sure for a full record, else by its likeness to the removed part. */
export function chanceOfUnasked(record: BenchRecord, starter: boolean, part: Part, notes: Notes): number {
  const share = shareRecorded(record, starter);
  if (share === 1) return 1;
  const alike = hasSameTerminals(record, part);
  notes.assume(`${Math.round(share * 100)} % of bolts, wires and their ends${starter ? ' and starter data' : ''} are recorded: the machine may ask more than the record does`);
  return chanceAt(share, notes.use(alike === undefined ? 'unaskedHolds' : alike ? 'unaskedAlikeHolds' : 'unaskedUnlikeHolds'));
}

/** What `chanceOfUnasked` is for parts with the terminals of the removed one, and with others; alike where the record lists none. */
export function chancesOfUnasked(record: BenchRecord, starter: boolean): { readonly alike: number; readonly unlike: number } {
  const share = shareRecorded(record, starter);
  const at = (name: SettingName): number => chanceAt(share, settingOf(name));
  return record.terminals ? { alike: at('unaskedAlikeHolds'), unlike: at('unaskedUnlikeHolds') } : { alike: at('unaskedHolds'), unlike: at('unaskedHolds') };
}

function chanceAt(share: number, holds: number): number {
  return share === 1 ? 1 : 1 - (1 - share) * (1 - holds);
}
