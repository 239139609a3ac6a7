import type { BenchRecord, JobPhotograph, JsonValue } from '../../../catalog-schema/index.ts';
import type { MeasuredPhotograph } from '../../../api/engine/photograph/index.ts';
import type { FieldChange } from '../../client/index.ts';
import { usualHoleMm } from '../../elements/bolt-list/hole-width.ts';

/** What a measured photograph has for the record. `changes` is empty where the record holds all of it already. */
export interface ForRecord {
  readonly holes: number;
  readonly terminals: number;
  readonly changes: readonly FieldChange[];
  /** holes marked by their middle alone are taken to be so wide, mm */
  readonly takenMm: number | undefined;
}

/**
 * Ordinary edits that put holes and terminals into the record: places to a hundredth of a millimetre, half-widths rounded up.
 * A stud's diameter goes with its place, a tab's width where it was marked by its two sides.
 */
export function findForRecord(record: BenchRecord, photograph: JobPhotograph, measured: MeasuredPhotograph): ForRecord {
  const ready = Object.entries(photograph.things ?? {}).flatMap(([key, thing]) => {
    const found = measured.things[key];
    return found?.ok ? [{ thing, found: found.value }] : [];
  });
  const holes = ready.filter(({ thing }) => thing.what === 'hole');
  const usual = usualHoleMm(record.mounting);
  const wanted: FieldChange[] = [];
  if (holes.length > 0) {
    const places = holes.map(({ found }) => ({ xMm: round(found.xMm), yMm: round(found.yMm), diameterMm: found.acrossMm === undefined ? usual : round(found.acrossMm.value) }));
    const plusMinusMm = measured.plusMinusMm === undefined ? null : roundUp(measured.plusMinusMm);
    if (record.mounting === undefined) wanted.push({ field: ['record', 'mounting'], value: { holes: places, ...(plusMinusMm === null ? {} : { plusMinusMm }) } });
    else wanted.push({ field: ['record', 'mounting', 'holes'], value: places }, { field: ['record', 'mounting', 'plusMinusMm'], value: plusMinusMm });
  }
  const known = new Map((record.terminals ?? []).map((terminal) => [terminal.id, terminal]));
  const terminals = ready.filter(({ thing }) => thing.what === 'terminal' && known.has(thing.terminal ?? ''));
  for (const { thing, found } of terminals) {
    const { id, form } = known.get(thing.terminal!)!;
    wanted.push({ field: ['record', 'terminals', id, 'at'], value: { xMm: round(found.xMm), yMm: round(found.yMm) } }, { field: ['record', 'terminals', id, 'atBy'], value: 'measured' });
    const figure = form === 'stud' || form === 'screw' ? 'majorDiameterMm' : form === 'tab' && thing.by === 'across' ? 'tabWidthMm' : undefined;
    if (figure !== undefined && found.acrossMm !== undefined) {
      wanted.push({ field: ['record', 'terminals', id, figure], value: { value: round(found.acrossMm.value), plusMinus: roundUp(found.acrossMm.plusMinus) } });
    }
  }
  return {
    holes: holes.length, terminals: terminals.length, changes: wanted.filter(({ field, value }) => !holds(record, field, value)),
    takenMm: holes.some(({ found }) => found.acrossMm === undefined) ? usual : undefined,
  };
}

/** Whether the record already says so. */
function holds(record: BenchRecord, [, list, ...rest]: readonly string[], value: JsonValue): boolean {
  let at: unknown = list === 'terminals' ? Object.fromEntries((record.terminals ?? []).map((terminal) => [terminal.id, terminal])) : record.mounting;
  for (const step of rest) at = typeof at === 'object' && at !== null ? (at as Record<string, unknown>)[step] : undefined;
  return JSON.stringify(at ?? null) === JSON.stringify(value);
}

function round(mm: number): number { return Math.round(mm * 100) / 100 + 0; }
function roundUp(mm: number): number { return Math.max(0.01, Math.ceil(mm * 100 - 1e-9) / 100); }
