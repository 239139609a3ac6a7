import { describe, expect, it } from 'vitest';
import { fit } from '../../api/engine/index.ts';
import { changed, readDemoCatalogue, readDemoJob } from './read-demo.ts';

// Negative off first, on last; a dirty post is itself a no-start (common practice, no source).
const catalogue = readDemoCatalogue();
const sweeper = readDemoJob('quay-sweeper-no-crank').record;
const aboutTheBattery = (cautions: readonly string[]) => cautions.filter((caution) => /negative/i.test(caution) && /first/i.test(caution) && /last/i.test(caution));

describe('battery first and last', () => {
  it('is told where a wire leads to the battery', () => {
    expect(aboutTheBattery(fit(sweeper, catalogue).cautions)).toHaveLength(1);
  });

  it('is not told of a part on the counter that has no wire on it', () => {
    expect(aboutTheBattery(fit(changed(sweeper, (record) => { delete record.wires; }), catalogue).cautions)).toEqual([]);
  });
});
