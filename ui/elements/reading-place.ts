import type { BenchRecord, Criterion, FitReading } from '../../catalog-schema/index.ts';

/** Where a reading is entered: a step, and the place in it by the name that the step's screen gives it. */
export interface ReadingPlace { readonly step: 'bench' | 'as-found'; readonly place: string }

/**
 * Where a reading on which fits hang is entered; undefined where it is not the bench's to take: only whoever made the part knows it.
 * The sentence names a wire or a field of the starter; everything else follows from the check that the reading settles.
 */
export function placeOfReading(reading: FitReading, record: BenchRecord): ReadingPlace | undefined {
  if (reading.from === 'maker') return undefined;
  const wire = (record.wires ?? []).find(({ tag }) => namesWire(reading.what, tag));
  if (wire !== undefined) return { step: 'as-found', place: wire.tag };
  for (const criterion of reading.settles ?? []) {
    const found = placeOfCriterion(criterion, reading.what, record);
    if (found !== undefined) return found;
  }
  return undefined;
}

function placeOfCriterion(criterion: Criterion, what: string, record: BenchRecord): ReadingPlace | undefined {
  const bench = (place: string): ReadingPlace => ({ step: 'bench', place });
  switch (criterion) {
    case 'wiring': case 'interlock':
      if (/panel/.test(what)) return bench('bolts');
      return (record.wires ?? []).length === 0 || /wire/.test(what) ? { step: 'as-found', place: untracedWire(record) } : undefined;
    case 'contact-form': return /class of the removed part/.test(what) ? bench('part') : { step: 'as-found', place: untracedWire(record) };
    case 'stud': case 'tab': return { step: 'as-found', place: '' };
    case 'polarity': return bench('ohms');
    case 'mounting': return bench('bolts');
    case 'contact-inrush': return bench('demand-inrushA');
    case 'contact-continuous': return bench('demand-continuousA');
    case 'coil-current': return bench('demand-controlFuseA');
    case 'pull-in': return bench('demand-controlOhm');
    case 'coil-duty': return bench('demand-longestOnS');
    case 'sealing': return bench('demand-minSealing');
    case 'space': return bench('space');
    case 'ambient': case 'coil-voltage': return bench('system');
    case 'pinion': return bench(/module/.test(what) ? 'starter-pinionModuleMm' : 'starter-pinionTeeth');
    case 'voltage': return bench('starter-nominalV');
    case 'power': return bench('starter-powerKw');
    case 'nose': return bench('starter-noseMm');
    case 'rotation': return bench('starter');
  }
}

/** The first wire that nobody has traced: '' where none is recorded. */
function untracedWire(record: BenchRecord): string {
  return (record.wires ?? []).find(({ leadsTo = 'unknown' }) => leadsTo === 'unknown')?.tag ?? '';
}

/** Does the sentence name this wire? A tag may be a part of another: 'W1' is not 'W10'. */
function namesWire(what: string, tag: string): boolean {
  const at = what.indexOf(`wire ${tag}`);
  if (at < 0) return false;
  const after = what[at + 5 + tag.length];
  return after === undefined || !/[\p{L}\p{N}]/u.test(after);
}
