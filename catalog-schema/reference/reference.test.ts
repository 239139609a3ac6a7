import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import * as reference from './index.ts';

const { THREADS } = reference;
const here = new URL('.', import.meta.url);

describe('the data files', () => {
  const files = readdirSync(here).filter((name) => name.endsWith('.json'));

  it('are there for every table the product needs', () => {
    expect(files.toSorted()).toEqual([
      'battery.json', 'clearance-holes.json', 'colours.json', 'copper.json', 'custom-markings.json', 'hexagons.json', 'relay-duty.json',
      'terminal-markings.json', 'terminals.json', 'threads.json', 'torque.json', 'voltage-drop.json', 'wire.json',
    ]);
  });

  it.each(files)('%s has one row a line, each with source, obtained, confidence and note', (file) => {
    const lines = readFileSync(new URL(file, here), 'utf8').trimEnd().split('\n');
    const rows = JSON.parse(lines.join('\n')) as Record<string, unknown>[];
    expect(lines).toHaveLength(rows.length + 2);
    for (const row of rows) {
      expect(Object.keys(row).filter((key) => key !== 'readAt')).toEqual(['designation', 'quantity', 'value', 'unit', 'source', 'obtained', 'confidence', 'note']);
      expect(row['source'], JSON.stringify(row)).not.toBe('');
      expect(['read', 'computed', 'from memory']).toContain(row['obtained']);
      expect(row['confidence'], JSON.stringify(row)).not.toBe('');
    }
  });
});

describe('threads', () => {
  const row = (name: string): reference.ThreadRow => THREADS.find((each) => each.name === name)!;

  it.each([
    // ISO 965-2 limits of size for 6g, as tabulated
    ['M6x1', 5.974, 5.794], ['M8x1.25', 7.972, 7.76], ['M10x1.5', 9.968, 9.732], ['M5x0.8', 4.976, 4.826],
    // ASME B1.1 class 2A, tabulated in inches: 0.2489/0.2408, 0.3113/0.3026, 0.3737/0.3643, 0.1891/0.1831, 0.3114/0.3042
    ['1/4-20', 0.2489 * 25.4, 0.2408 * 25.4], ['5/16-18', 0.3113 * 25.4, 0.3026 * 25.4], ['3/8-16', 0.3737 * 25.4, 0.3643 * 25.4],
    ['#10-32', 0.1891 * 25.4, 0.1831 * 25.4], ['5/16-24', 0.3114 * 25.4, 0.3042 * 25.4],
  ])('%s has the standard\'s limits of major diameter', (name, max, min) => {
    expect(row(name).majorMaxMm).toBeCloseTo(max, 3);
    expect(row(name).majorMinMm).toBeCloseTo(min, 3);
  });

  it('keep their largest size below the nominal one and above the smallest (g and A fits leave room)', () => {
    for (const each of THREADS) {
      expect(each.majorMaxMm, each.name).toBeLessThan(each.majorMm);
      expect(each.majorMinMm, each.name).toBeLessThan(each.majorMaxMm);
    }
  });

  it('hold Unified tolerances of 0.060 P^(2/3) in (ASME B1.1 class 2A major diameter)', () => {
    for (const each of THREADS.filter((thread) => thread.series.startsWith('UN'))) {
      expect((each.majorMaxMm - each.majorMinMm) / 25.4, each.name).toBeCloseTo(0.06 * (each.pitchMm / 25.4) ** (2 / 3), 3);
    }
  });

  it('know exact inch sizes: number sizes are 0.060 in + 0.013 in a number (ASME B1.1)', () => {
    expect(row('#10-32').majorMm).toBeCloseTo(4.826, 6);
    expect(row('5/16-18').majorMm).toBeCloseTo(7.9375, 6);
    expect(row('1/4-20').pitchMm).toBeCloseTo(1.27, 9);
  });

  it('list the hexagons of every standard where they differ: ISO 4032 and old DIN 934 at M10, ASME B18.2.2 at 5/16', () => {
    const nuts = (name: string): number[] => row(name).acrossFlatsMm.filter((each) => each.on !== 'head').map((each) => each.mm);
    expect(nuts('M10x1.5')).toEqual([16, 17, 15, 14]);
    expect(nuts('M8x1.25')).toContain(13);
    expect(nuts('5/16-18')).toContain(12.7);
    expect(nuts('1/4-28')).toContain(11.112);
    expect(row('M8x1').acrossFlatsMm.some((each) => each.source === 'ISO 8673')).toBe(true);
    expect(row('M8x1.25').acrossFlatsMm.some((each) => each.source === 'ISO 8673')).toBe(false);
  });
});

describe('colours', () => {
  it('are the letters of IEC 60757 with a shade of our own for each', () => {
    expect(reference.COLOURS.map((each) => each.letters)).toEqual(
      ['BK', 'BN', 'RD', 'OG', 'YE', 'GN', 'BU', 'VT', 'GY', 'WH', 'PK', 'GD', 'TQ', 'SR', 'GNYE']);
    expect(new Set(reference.COLOURS.filter((each) => each.letters !== 'GNYE').map((each) => each.screenHex)).size).toBe(14);
    expect(reference.COLOURS.every((each) => each.screenHexSource === 'own choice')).toBe(true);
  });

  it.each([['YE', 'YE', undefined], ['ye/gn', 'YE', 'GN'], ['RDBU', 'RD', 'BU'], ['GNYE', 'GN', 'YE'], ['BK - WH', 'BK', 'WH']])(
    '%s reads as base and stripe', (text, base, stripe) => {
      const colour = reference.readColour(text);
      expect([colour?.base.letters, colour?.stripe?.letters]).toEqual([base, stripe]);
    });

  it.each(['', 'yellow', 'XX', 'YE/XX', 'YE/GN/BU'])('%j is no colour of the standard', (text) => {
    expect(reference.readColour(text)).toBeUndefined();
  });
});

describe('copper wire', () => {
  it('changes by 0.393 % a kelvin (IEC 60028): 4.30 Ohm at 35 C is 4.0606 Ohm at 20 C', () => {
    expect(4.3 / (1 + reference.COPPER_ALPHA_20C * 15)).toBeCloseTo(4.0606, 4);
  });

  it('takes the greatest resistance of IEC 60228 class 5 at a nominal size: 16 mm2 is 1.21 Ohm/km', () => {
    expect(reference.wireResistance(16)).toEqual({ ohmPerM: 0.00121, source: 'IEC 60228 class 5, 16 mm2' });
    expect(reference.wireOhmPerM(1.5)).toBeCloseTo(0.0133, 9);
  });

  it('takes solid copper of an AWG gauge (ASTM B258): AWG 10 is 5.261 mm2 and 3.277 Ohm/km', () => {
    expect(reference.awgAreaMm2('10')).toBeCloseTo(5.261, 3);
    expect(reference.wireOhmPerM(5.261)).toBeCloseTo(0.003277, 6);
    expect(reference.awgAreaMm2('0')).toBe(reference.awgAreaMm2('1/0'));
    expect(reference.awgAreaMm2('0000')).toBeCloseTo(107.22, 2);
    expect(reference.awgAreaMm2('3')).toBeCloseTo((Math.PI / 4) * (0.127 * 92 ** (33 / 39)) ** 2, 3);
    expect(reference.awgAreaMm2('99')).toBeUndefined();
  });

  it('computes other areas from 58 m/(Ohm mm2) (IEC 60028) and refuses what is no area', () => {
    expect(reference.wireOhmPerM(18)).toBeCloseTo(1 / (58 * 18), 12);
    expect(() => reference.wireOhmPerM(0)).toThrow('not above 0');
  });
});

describe('terminals', () => {
  it('lists the six tabs of IEC 61210 with their limits', () => {
    expect(reference.TABS.map((tab) => tab.name)).toEqual(['2.8x0.5', '2.8x0.8', '4.8x0.5', '4.8x0.8', '6.3x0.8', '9.5x1.2']);
    for (const tab of reference.TABS) {
      expect(tab.widthMm).toBeGreaterThanOrEqual(tab.widthMinMm);
      expect(tab.widthMm).toBeLessThanOrEqual(tab.widthMaxMm);
      expect(tab.limitsSource).toContain('from memory');
    }
  });

  it('has ring holes that pass their stud by 0.1 to 1.5 mm', () => {
    for (const ring of reference.RING_HOLES) expect(ring.holeMm - ring.majorMm, ring.stud).toSatisfy((gap: number) => gap >= 0.1 && gap <= 1.5);
    expect(reference.RING_HOLES.find((ring) => ring.stud === 'M8')?.holeMm).toBe(8.4);
  });

  it('says that 87 is two things: an input in DIN 72552 and the make contact of a cube relay', () => {
    const usages = reference.meaningsOfMarking('87').map((each) => each.usage);
    expect(usages).toEqual(['DIN 72552', 'cube relay']);
    expect(reference.meaningsOfMarking('87A').map((each) => each.usage)).toContain('cube relay');
  });

  it.each([['50', 'starter control'], ['30', 'battery positive'], ['45', 'starter'], ['85', 'coil'], ['S', 'start signal'], ['A1', 'coil']])(
    'marking %s has a meaning with a source', (marking, meaning) => {
      const [first] = reference.meaningsOfMarking(marking);
      expect(first?.meaning).toContain(meaning);
      expect(first?.source).not.toBe('');
    });

  it('gives no meaning to letters nobody listed', () => {
    expect(reference.meaningsOfMarking('QX7')).toEqual([]);
  });
});

describe('torque to fall back on', () => {
  // IEC 60947-1 Table 4, column III (from memory), N·m by thread diameter in mm
  it.each([[2.8, 0.4], [3, 0.5], [3.5, 0.8], [4, 1.2], [4.5, 1.8], [5, 2], [6, 3], [8, 6], [10, 10], [12, 14], [14, 19], [20, 25],
    [4.166, 1.8], [4.826, 2], [6.35, 6], [7.9375, 6], [9.525, 10]])('a %s mm thread has %s N·m', (majorMm, newtonMetres) => {
    expect(reference.torqueFor(majorMm)?.newtonMetres).toBe(newtonMetres);
  });

  it('says that it is a test torque, from memory, and that the maker comes first', () => {
    expect(reference.torqueFor(6)?.label).toMatch(/maker's torque comes first.*test torque.*IEC 60947-1 Table 4 \(from memory\), column III/);
  });

  it('is silent for no diameter and beyond the table', () => {
    expect([0, -1, Number.NaN, 20.1].map((majorMm) => reference.torqueFor(majorMm))).toEqual([undefined, undefined, undefined, undefined]);
  });
});

describe('clearance holes', () => {
  // ISO 273 fine, medium, coarse; ASME B18.2.8 metric equivalents close, normal, loose
  it.each([['M5', 5.3, 5.5, 5.8], ['M6', 6.4, 6.6, 7], ['M8', 8.4, 9, 10], ['M10', 10.5, 11, 12], ['#10', 5.2, 5.6, 6], ['1/4', 6.8, 7.1, 7.5], ['5/16', 8.3, 8.7, 9.1]])(
    '%s passes %s, %s or %s mm', (bolt, close, normal, loose) => {
      expect([reference.clearanceHoleMm(bolt, 'close'), reference.clearanceHoleMm(bolt), reference.clearanceHoleMm(bolt, 'loose')]).toEqual([close, normal, loose]);
    });

  it('reads a thread name or a diameter, and takes the next thicker bolt for one in between', () => {
    expect([reference.clearanceHoleMm('M8x1.25'), reference.clearanceHoleMm('#10-32'), reference.clearanceHoleMm(8), reference.clearanceHoleMm(6.2)])
      .toEqual([9, 5.6, 9, 7.1]);
    expect([reference.clearanceHoleMm('M99'), reference.clearanceHoleMm(0), reference.clearanceHoleMm(40)]).toEqual([undefined, undefined, undefined]);
  });
});

describe('voltage drops while cranking', () => {
  it('keep the yardsticks apart and name whose each is', () => {
    const ground = reference.VOLTAGE_DROP_LIMITS.find((each) => each.where.startsWith('ground:'));
    expect(ground).toMatchObject({ maxV: 0.2, source: 'common practice' });
    expect(reference.VOLTAGE_DROP_LIMITS.some((each) => each.source.includes('TM 5-3895-382-24') && each.maxV === 0.7)).toBe(true);
    expect(reference.VOLTAGE_DROP_LIMITS.every((each) => each.source !== '' && each.limit !== '')).toBe(true);
  });
});
