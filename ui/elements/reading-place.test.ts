import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { fit } from '../../api/engine/index.ts';
import type { BenchRecord, FitReading } from '../../catalog-schema/index.ts';
import { readCataloguePath } from '../../catalog-schema/folder/index.ts';
import { placeOfReading } from './reading-place.ts';

const demo = join(import.meta.dirname, '..', '..', 'demo-catalog');
const record: BenchRecord = {
  partClass: 'start-relay', system: { nominalV: 12 }, terminals: [{ id: 'B', form: 'stud' }],
  wires: [{ tag: 'W1', wasOn: 'B', leadsTo: 'battery' }, { tag: 'W10', wasOn: 'B' }],
};
const placeOf = (what: string, settles: FitReading['settles'], from: FitReading['from'] = 'bench'): ReturnType<typeof placeOfReading> =>
  placeOfReading({ what, why: '', worth: 1, from, ...(settles === undefined ? {} : { settles }) }, record);

describe('where a reading that fits hang on is entered', () => {
  it('is the wire that its sentence names, and no other whose tag begins alike', () => {
    expect(placeOf('ring hole of wire W10', ['stud'])).toEqual({ step: 'as-found', place: 'W10' });
    expect(placeOf('ring hole of wire W1', ['stud'])).toEqual({ step: 'as-found', place: 'W1' });
  });

  it('is the wire still to be traced where wires are asked for', () => {
    expect(placeOf('where each wire leads: trace it', ['wiring'])).toEqual({ step: 'as-found', place: 'W10' });
  });

  it('is nowhere where only the maker knows', () => {
    expect(placeOf('inrush rating of the contact', ['contact-inrush'], 'maker')).toBeUndefined();
    expect(placeOf('something new', undefined)).toBeUndefined();
  });

  it('is known for every reading the bench is asked for by the demo\'s jobs, stripped of what they have measured', () => {
    const read = readCataloguePath(demo);
    if (!read.ok) throw new Error('the demo does not read');
    let asked = 0;
    for (const name of readdirSync(join(demo, 'jobs'))) {
      const { record: full } = JSON.parse(readFileSync(join(demo, 'jobs', name), 'utf8')) as { record: BenchRecord };
      const { demand: _demand, mounting: _mounting, starter: _starter, ...bare } = full;
      const untied = { ...bare, wires: (bare.wires ?? []).map(({ end: _end, ...wire }) => wire) };
      for (const state of [full, bare, untied]) {
        for (const reading of fit(state, read.value).measureNext) {
          const place = placeOfReading(reading, state);
          const maker = reading.from === 'maker';
          if (!maker) asked += 1;
          expect(place === undefined, `${reading.what} / ${reading.why}`).toBe(maker);
        }
      }
    }
    expect(asked).toBeGreaterThan(20);
  });
});
