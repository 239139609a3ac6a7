import { describe, expect, it } from 'vitest';
import { FORM_BOUNDS, measureForms } from './measure-forms.ts';

// The time of an answer is held by forms.ts alone: here other tests run beside it.
describe('the circuits of twenty simulated parts', () => {
  const figures = measureForms(20, 4711);
  const told = figures.lines.join('\n');

  it('stand on top of every answer once every reading is taken', () => {
    expect(figures.partsWrong, told).toBe(0);
  });

  it('are not claimed wrongly more often than the claims allow', () => {
    expect(figures.wrongAbove90, told).toBeLessThanOrEqual(FORM_BOUNDS.wrongAbove90);
    expect(figures.wrongAbove99, told).toBeLessThanOrEqual(FORM_BOUNDS.wrongAbove99);
  });

  it('are settled in at most six readings where there are four terminals, when one reads what is asked next', () => {
    expect(figures.meanReadings, told).toBeGreaterThan(0);
    expect(figures.meanReadings, told).toBeLessThanOrEqual(FORM_BOUNDS.meanReadings);
  });

  it('keep a diode possible when the meter reads the same in both directions', () => {
    expect(figures.clearedDiodes, told).toBe(0);
  });
});
