import { describe, expect, it } from 'vitest';
import { weighThreads } from './weigh-threads.ts';

const candidate = (thread: string, probability: number) => ({ thread, series: 'x', probability });

describe('a thread card', () => {
  it('calls threads that only the pitch tells apart near twins and asks for the pitch', () => {
    const card = weighThreads({ id: 'a', form: 'stud', majorDiameterMm: 7.9 }, [candidate('5/16-18', 0.41), candidate('M8 x 1.25', 0.52), candidate('M8 x 1', 0.02)]);
    expect(card).toEqual({ likely: [candidate('M8 x 1.25', 0.52), candidate('5/16-18', 0.41)], why: 'twins', measure: 'pitchMm' });
  });

  it('shows a decided thread alone', () => {
    expect(weighThreads({ id: 'a', form: 'stud', pitchMm: 1.25 }, [candidate('M8 x 1.25', 0.98), candidate('5/16-18', 0.02)]))
      .toEqual({ likely: [candidate('M8 x 1.25', 0.98)], why: undefined, measure: undefined });
  });

  it('asks for what is not measured, and for nothing once all three are', () => {
    const open = [candidate('M8 x 1.25', 0.6), candidate('5/16-18', 0.4)];
    expect(weighThreads({ id: 'a', form: 'stud', pitchMm: 1.25 }, open)).toMatchObject({ why: 'open', measure: 'majorDiameterMm' });
    expect(weighThreads({ id: 'a', form: 'stud', pitchMm: 1.25, majorDiameterMm: 7.9 }, open)).toMatchObject({ why: 'open', measure: 'nutAcrossFlatsMm' });
    expect(weighThreads({ id: 'a', form: 'stud', pitchMm: 1.25, majorDiameterMm: 7.9, nutAcrossFlatsMm: 13 }, open)).toMatchObject({ why: 'open', measure: undefined });
  });

  it('says nothing without candidates', () => {
    expect(weighThreads({ id: 'a', form: 'stud' }, [])).toEqual({ likely: [], why: undefined, measure: undefined });
  });
});
