import { describe, expect, it } from 'vitest';
import { checkOf, failedOf, judge } from './ask-fit.ts';
import { changed, readDemoCatalogue, readDemoJob } from './read-demo.ts';

const catalogue = readDemoCatalogue();
const tower = readDemoJob('light-tower-starter-rotation').record;

describe('starters rotate two ways', () => {
  it('refuses the counter-clockwise one of the same flange as a matter of safety, and for nothing else', () => {
    const entry = judge(tower, catalogue, 'ov-8010-12l9');
    expect(entry.verdict).toBe('no');
    expect(failedOf(entry)).toEqual(['rotation']);
    expect(checkOf(entry, 'rotation').safety).toBe(true);
    expect(checkOf(entry, 'rotation').why).toMatch(/drive end|ring gear|wrong way|engage/i);
    expect(judge(tower, catalogue, 'ov-8010-12r9').verdict).toBe('direct');
  });

  it('takes it, and refuses the clockwise one, where the old one turned counter-clockwise', () => {
    const other = changed(tower, (record) => { record.starter!.rotation = 'ccw'; });
    expect(judge(other, catalogue, 'ov-8010-12l9').verdict).toBe('direct');
    expect(failedOf(judge(other, catalogue, 'ov-8010-12r9'))).toEqual(['rotation']);
  });
});
