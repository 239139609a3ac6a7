import { describe, expect, it } from 'vitest';
import type { BenchRecord, RecordTerminal } from '../../../catalog-schema/index.ts';
import { identify } from './index.ts';

// Figures of the standards, typed in here from their tables and not read from the product's: what lies within a limit is that thread,
// nut, tab or coil, and what lies outside is not.

const sharp = (value: number) => ({ value, plusMinus: 0.004 });
const stud = (more: Partial<RecordTerminal>) => identify({ system: { nominalV: 12 }, terminals: [{ id: 'B', form: 'stud', ...more }] });
const best = (more: Partial<RecordTerminal>) => stud(more).threads[0]!.candidates[0];
const INCH = 25.4;

describe('limits of the major diameter', () => {
  // ISO 965-2 (limits of ISO 965-1, 6g), mm; ASME B1.1 class 2A, inches. From memory, and equal to the formulas of the standards
  // (ISO 965-1: es = -(15 + 11 P), Td = 180 P^(2/3) - 3.15 / sqrt(P), micrometres; ASME B1.1: 0.060 P^(2/3), inches).
  it.each([
    ['M4x0.7', 0.7, 3.978, 3.838], ['M5x0.8', 0.8, 4.976, 4.826], ['M6x1', 1, 5.974, 5.794], ['M8x1.25', 1.25, 7.972, 7.76], ['M8x1', 1, 7.974, 7.794],
    ['M10x1.5', 1.5, 9.968, 9.732], ['M10x1.25', 1.25, 9.972, 9.76], ['M12x1.75', 1.75, 11.966, 11.701],
    ['#8-32', INCH / 32, 0.1631 * INCH, 0.1571 * INCH], ['#10-24', INCH / 24, 0.189 * INCH, 0.1818 * INCH], ['#10-32', INCH / 32, 0.1891 * INCH, 0.1831 * INCH],
    ['1/4-20', INCH / 20, 0.2489 * INCH, 0.2408 * INCH], ['1/4-28', INCH / 28, 0.249 * INCH, 0.2425 * INCH], ['5/16-18', INCH / 18, 0.3113 * INCH, 0.3026 * INCH],
    ['5/16-24', INCH / 24, 0.3114 * INCH, 0.3042 * INCH], ['3/8-16', INCH / 16, 0.3737 * INCH, 0.3643 * INCH], ['3/8-24', INCH / 24, 0.3739 * INCH, 0.3667 * INCH],
    ['1/2-13', INCH / 13, 0.4985 * INCH, 0.4876 * INCH],
  ])('hold %s', (thread, pitchMm, most, least) => {
    for (const inside of [least, (least + most) / 2, most]) expect(best({ majorDiameterMm: sharp(inside), pitchMm })?.thread).toBe(thread);
    for (const outside of [least - 0.015, most + 0.015]) expect(best({ majorDiameterMm: sharp(outside), pitchMm: sharp(pitchMm) })?.thread).not.toBe(thread);
  });
});

describe('the nut', () => {
  // Width across flats, greatest and least: ISO 4032 (product grade A) in mm, ASME B18.2.2 hex nuts in inches; from memory. The diameter
  // lies where the zones of both threads overlap, or half-way between them where they do not. The greatest 5/16 nut (0.500 in) is left out:
  // it is within 0.03 mm of the least M8 nut, and rightly undecided.
  it.each([
    ['M6x1', '1/4-20', [10, 9.78], [0.438 * INCH, 0.428 * INCH], 6.04], ['M8x1.25', '5/16-18', [13, 12.73], [0.494 * INCH, 0.489 * INCH], 7.83],
    ['M10x1.5', '3/8-16', [16, 15.73], [0.562 * INCH, 0.551 * INCH], 9.61],
  ] as const)('tells %s from %s', (metric, inch, metricNut, inchNut, diameter) => {
    const by = (nutAcrossFlatsMm: number) => new Map(stud({ majorDiameterMm: { value: diameter, plusMinus: 0.3 }, nutAcrossFlatsMm: { value: nutAcrossFlatsMm, plusMinus: 0.03 } })
      .threads[0]!.candidates.map(({ thread, probability }) => [thread, probability]));
    for (const width of metricNut) expect(by(width).get(metric) ?? 0, `${width} mm`).toBeGreaterThan(by(width).get(inch) ?? 0);
    for (const width of inchNut) expect(by(width).get(inch) ?? 0, `${width} mm`).toBeGreaterThan(by(width).get(metric) ?? 0);
  });
});

describe('copper', () => {
  // IEC 60028: 0.00393 a kelvin at 20 C, as a table of R / R20 worked from it.
  it.each([[-20, 0.8428], [0, 0.9214], [25, 1.0196], [40, 1.0786], [60, 1.1572], [80, 1.2358], [100, 1.3144]])('at %s C has %s of its ohms at 20 C', (benchC, ratio) => {
    const record: BenchRecord = {
      system: { nominalV: 12 }, benchC, terminals: [{ id: 'B', form: 'stud' }, { id: 'M', form: 'stud' }, { id: 'S', form: 'tab' }, { id: 'I', form: 'tab' }],
      ohms: [{ between: ['S', 'I'], ohm: { value: 4 * ratio, plusMinus: 0.05 } }],
    };
    expect(identify(record).coils[0]!.ohmAt20C).toBeCloseTo(4, 3);
  });

  it('has 4.9432 Ohm at 80 C where it has 4.0 at 20 C, and draws 80.9 % of the current (worked figure)', () => {
    expect(identify({ system: { nominalV: 12 }, benchC: 80, ohms: [{ between: ['S', 'case'], ohm: { value: 4.9432, plusMinus: 0.02 } }] }).coils[0]!.ohmAt20C).toBeCloseTo(4, 4);
    expect(4 / 4.9432).toBeCloseTo(0.809, 3);
  });
});

describe('tabs', () => {
  const tab = (tabWidthMm: number, tabThicknessMm: number) => identify({
    system: { nominalV: 12 }, terminals: [{ id: 'S', form: 'tab', tabWidthMm: sharp(tabWidthMm), tabThicknessMm: sharp(tabThicknessMm) }],
  });

  // IEC 61210 / UL 310: width and thickness, greatest and least, mm; from memory.
  it.each([
    [2.8, 0.5, [2.9, 2.7], [0.54, 0.47]], [2.8, 0.8, [2.9, 2.7], [0.84, 0.77]], [4.8, 0.5, [4.8, 4.6], [0.54, 0.47]],
    [4.8, 0.8, [4.9, 4.67], [0.84, 0.77]], [6.3, 0.8, [6.4, 6.2], [0.84, 0.77]], [9.5, 1.2, [9.6, 9.4], [1.23, 1.17]],
  ] as const)('of %s x %s mm are known within the limits of IEC 61210 and refused outside', (widthMm, thicknessMm, widths, thicknesses) => {
    for (const width of widths) for (const thickness of thicknesses) expect(tab(width, thickness).tabs[0]!.candidates[0]).toMatchObject({ widthMm, thicknessMm });
    const [wide, narrow] = widths;
    for (const width of [wide + 0.02, narrow - 0.02]) {
      expect(tab(width, thicknessMm).tabs[0]!.candidates.filter((each) => each.widthMm === widthMm && each.thicknessMm === thicknessMm && each.probability > 0.5)).toEqual([]);
    }
  });
});
