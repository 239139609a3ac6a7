import { describe, expect, it } from 'vitest';
import { isOpenReading, readQuantity, type LengthUnit } from './read-quantity.ts';
import type { Dimension } from './unit.ts';

describe('reading a quantity', () => {
  // The inch is 25.4 mm exactly (ISO 80000-3); °C = (°F - 32) x 5/9; AWG areas by ASTM B258.
  it.each<[string, Dimension, number, string]>([
    ['5/16', 'length', 7.9375, '5/16 in = 7.9375 mm'],
    ['3/8', 'length', 9.525, '3/8 in = 9.525 mm'],
    ['1-3/8 in', 'length', 34.925, '1-3/8 in = 34.925 mm'],
    ['1 3/8"', 'length', 34.925, '1-3/8 in = 34.925 mm'],
    ['1⅜ in', 'length', 34.925, '1-3/8 in = 34.925 mm'],
    ['½″', 'length', 12.7, '1/2 in = 12.7 mm'],
    ['0.3125 in', 'length', 7.9375, '0.3125 in = 7.9375 mm'],
    ['.3125in', 'length', 7.9375, '0.3125 in = 7.9375 mm'],
    ['7.9', 'length', 7.9, '7.9 mm'],
    ['7.9 mm', 'length', 7.9, '7.9 mm'],
    ['12,5', 'length', 12.5, '12.5 mm'],
    ['0,125 in', 'length', 3.175, '0.125 in = 3.175 mm'],
    ['2.5 cm', 'length', 25, '2.5 cm = 25 mm'],
    ['1.2 m', 'length', 1200, '1.2 m = 1200 mm'],
    ['32 mil', 'length', 0.8128, '32 mil = 0.8128 mm'],
    ['-12', 'length', -12, '-12 mm'],
    ['−12 mm', 'length', -12, '-12 mm'],
    ['1,234.5', 'length', 1234.5, '1234.5 mm'],
    ['1.234,5', 'length', 1234.5, '1234.5 mm'],
    ['12 VDC', 'voltage', 12, '12 V'],
    ['12 V DC', 'voltage', 12, '12 V'],
    ['12 V', 'voltage', 12, '12 V'],
    ['12v', 'voltage', 12, '12 V'],
    ['210 mV', 'voltage', 0.21, '210 mV = 0.21 V'],
    ['3.2 \u2126', 'resistance', 3.2, '3.2 Ω'],
    ['3.2 \u03A9', 'resistance', 3.2, '3.2 Ω'],
    ['3.2 ohm', 'resistance', 3.2, '3.2 Ω'],
    ['3.2 ohms', 'resistance', 3.2, '3.2 Ω'],
    ['3.2R', 'resistance', 3.2, '3.2 Ω'],
    ['45 mΩ', 'resistance', 0.045, '45 mΩ = 0.045 Ω'],
    ['2 MΩ', 'resistance', 2_000_000, '2 MΩ = 2000000 Ω'],
    ['1.5k', 'resistance', 1500, '1.5 kΩ = 1500 Ω'],
    ['4 AWG', 'area', 21.1506, '4 AWG = 21.1506 mm²'],
    ['AWG 10', 'area', 5.2612, '10 AWG = 5.2612 mm²'],
    ['#4', 'area', 21.1506, '4 AWG = 21.1506 mm²'],
    ['2/0', 'area', 67.4309, '2/0 AWG = 67.4309 mm²'],
    ['2/0 awg', 'area', 67.4309, '2/0 AWG = 67.4309 mm²'],
    ['16', 'area', 16, '16 mm²'],
    ['16 mm2', 'area', 16, '16 mm²'],
    ['16 sq mm', 'area', 16, '16 mm²'],
    ['150 A', 'current', 150, '150 A'],
    ['150 amps', 'current', 150, '150 A'],
    ['850 mA', 'current', 0.85, '850 mA = 0.85 A'],
    ['45 s', 'time', 45, '45 s'],
    ['2 min', 'time', 120, '2 min = 120 s'],
    ['0.5h', 'time', 1800, '0.5 h = 1800 s'],
    ['68 degF', 'temperature', 20, '68 °F = 20 °C'],
    ['68 deg F', 'temperature', 20, '68 °F = 20 °C'],
    ['-40 °F', 'temperature', -40, '-40 °F = -40 °C'],
    ['20 °C', 'temperature', 20, '20 °C'],
    ['20℃', 'temperature', 20, '20 °C'],
    ['20', 'temperature', 20, '20 °C'],
    ['293.15 K', 'temperature', 20, '293.15 K = 20 °C'],
    ['12', 'number', 12, '12'],
    ['3/4', 'number', 0.75, '3/4'],
  ])('%j as %s is %s', (text, dimension, value, understood) => {
    const read = readQuantity(text, dimension);
    expect(read).toMatchObject({ ok: true, understood });
    if (read.ok) expect(read.value).toBeCloseTo(value, 9);
  });

  it.each<[string, Dimension, string]>([
    ['1.2.3', 'length', '1.2.3: not one number'],
    ['1,2,3', 'length', '1,2,3: not one number'],
    ['1 2', 'length', '1 2: not one number'],
    ['12 - 13', 'length', '12 - 13: not one number'],
    ['12 13 mm', 'length', '12 13 mm: not one number'],
    ['7.9 mm 8', 'length', '7.9 mm 8: not one number'],
    ['1,234', 'length', '1,234: either 1.234 or 1234: write it with a point, or without a comma'],
    ['12,500 mm', 'length', '12,500 mm: either 12.500 or 12500: write it with a point, or without a comma'],
    ['', 'length', 'nothing: want a number'],
    ['  ', 'voltage', 'nothing: want a number'],
    ['wide', 'length', 'wide: not a number, want a length such as 7.9 mm or 5/16 in'],
    ['12 A', 'voltage', '12 A: A is amperes, want volts such as 12.6'],
    ['12 VAC', 'voltage', '12 VAC: alternating volts, want DC'],
    ['12 furlongs', 'length', '12 furlongs: "furlongs" is no unit of a length such as 7.9 mm or 5/16 in'],
    ['3/0', 'length', '3/0: nothing can be parted by 0'],
    ['1-9/8', 'length', '1-9/8: the fraction beside a whole number must be below 1'],
    ['5/16/2', 'length', '5/16/2: not one number'],
    ['1.5/2', 'length', '1.5/2: not one number'],
    ['M8 x 1.25', 'length', 'M8 x 1.25: a thread, want a length such as 7.9 mm or 5/16 in'],
    ['1/4-20', 'length', '1/4-20: a thread, want a length such as 7.9 mm or 5/16 in'],
    ['99 AWG', 'area', '99 AWG: want an AWG gauge from 22 to 4/0'],
    ['1e3', 'number', '1e3: not one number'],
    ['Infinity', 'length', 'Infinity: not a number, want a length such as 7.9 mm or 5/16 in'],
    ['NaN', 'resistance', 'NaN: not a number, want ohms such as 3.2'],
  ])('%j as %s is refused in plain words', (text, dimension, fault) => {
    expect(readQuantity(text, dimension)).toEqual({ ok: false, fault });
  });

  it('refuses a text too long for a number without looking at all of it', () => {
    expect(readQuantity('1'.repeat(1_000_000), 'length')).toMatchObject({ ok: false, fault: expect.stringMatching(/^1{39}…: too long for a number$/) });
  });

  it.each<[LengthUnit, number]>([['mm', 0.5], ['inch', 12.7]])('takes %s where a length has no unit', (unit, value) => {
    expect(readQuantity('0.5', 'length', unit)).toMatchObject({ value });
  });

  it('takes a fraction without a unit as inches, whatever the setting: nobody measures 5/16 mm', () => {
    expect(readQuantity('5/16', 'length', 'mm')).toEqual(readQuantity('5/16', 'length', 'inch'));
  });

  it('gives the same length for the same thing in other units', () => {
    const values = ['25.4 mm', '2.54 cm', '1 in', '1000 mil', '0.0254 m', '25400 um'].map((text) => readQuantity(text, 'length'));
    for (const each of values) expect(each).toMatchObject({ ok: true, value: 25.4 });
  });

  it.each(['open', 'OL', '0L', 'o.l.', '∞', 'Open'])('%j says that nothing conducts', (text) => {
    expect(isOpenReading(text)).toBe(true);
  });

  it.each(['', '0', '10', 'o', 'opener'])('%j does not', (text) => {
    expect(isOpenReading(text)).toBe(false);
  });
});
