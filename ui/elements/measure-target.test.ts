import { describe, expect, it } from 'vitest';
import type { BenchRecord } from '../../catalog-schema/index.ts';
import { identify } from '../../api/engine/index.ts';
import { targetOf } from './measure-target.ts';

const RECORD: BenchRecord = {
  system: { nominalV: 12 },
  terminals: [{ id: 'a', form: 'stud', majorDiameterMm: 7.9 }, { id: 'b', form: 'stud' }, { id: 'c', form: 'tab', tabWidthMm: 6.3 }, { id: 'start and run', form: 'tab' }],
};

describe('a measurement asked for', () => {
  it('leads to the field of the terminal it names', () => {
    expect(targetOf('measure the pitch of a', RECORD)).toEqual({ kind: 'figure', terminal: 'a', figure: 'pitchMm' });
    expect(targetOf('measure the thickness of tab c', RECORD)).toEqual({ kind: 'figure', terminal: 'c', figure: 'tabThicknessMm' });
    expect(targetOf('measure the nut of b: it tells M8 from 5/16', RECORD)).toEqual({ kind: 'figure', terminal: 'b', figure: 'nutAcrossFlatsMm' });
  });

  it('sets up instrument, probe and plunger of an ohm reading', () => {
    expect(targetOf('read the ohms between c and case with a meter, at rest', RECORD))
      .toEqual({ kind: 'ohms', setUp: { between: ['c', 'case'], by: 'meter', plusOn: undefined, pulledIn: false } });
    expect(targetOf('read the ohms between c and start and run with a supply, plus on start and run, held in', RECORD))
      .toEqual({ kind: 'ohms', setUp: { between: ['c', 'start and run'], by: 'supply', plusOn: 'start and run', pulledIn: true } });
  });

  it('is words alone where it names no place of the record', () => {
    for (const what of ['measure the pitch of z', 'where wire W4 leads', 'read the ohms between a and z with a meter, at rest',
      'read the ohms between a and b with a supply, plus on c, at rest', '']) expect(targetOf(what, RECORD), what).toBeUndefined();
  });

  it('leads somewhere for every sentence the engine makes', () => {
    const { measureNext } = identify(RECORD);
    expect(measureNext.length).toBeGreaterThan(1);
    expect(measureNext.filter(({ what }) => targetOf(what, RECORD) === undefined)).toEqual([]);
  });
});
