import { describe, expect, it } from 'vitest';
import { fit } from '../../api/engine/index.ts';
import { changed, readDemoCatalogue, readDemoJob } from './read-demo.ts';

// Lug on the stud's seat, washer outside, inner nut held (common practice, no source).
const catalogue = readDemoCatalogue();
const aboutTheStack = (cautions: readonly string[]) => cautions.filter((caution) => /\blug\b/i.test(caution) && /washer/i.test(caution));

describe('the order of the stack', () => {
  it('is told where wires go on studs', () => {
    const said = aboutTheStack(fit(readDemoJob('quay-sweeper-no-crank').record, catalogue).cautions);
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(/inner nut|hold/i);
  });

  it('is not told where every wire goes on a tab', () => {
    const tabs = changed(readDemoJob('quay-vacuum-plug-in-relay').record, () => undefined);
    expect(aboutTheStack(fit(tabs, catalogue.filter((part) => part.partClass === 'plug-in-relay')).cautions)).toEqual([]);
  });
});
