import { describe, expect, it } from 'vitest';
import { THREADS } from '../reference/index.ts';
import { threadName } from './thread-name.ts';
import { canonicalThreadName, readThread } from './read-thread.ts';

describe('reading a thread', () => {
  it.each([
    ['M8x1.25', 'M8x1.25'], ['M8', 'M8x1.25'], ['m8 x 1.25', 'M8x1.25'], ['M8 X 1,25', 'M8x1.25'], ['M8×1.25', 'M8x1.25'],
    ['M8-1.25', 'M8x1.25'], ['M 8', 'M8x1.25'], ['M8x1', 'M8x1'], ['M8 x 1.0', 'M8x1'], ['M8x1.25-6g', 'M8x1.25'], ['M3.5', 'M3.5x0.6'],
    ['M6', 'M6x1'], ['M10x1.5', 'M10x1.5'], ['M10x.75', 'M10x0.75'], ['  M5  ', 'M5x0.8'], ['M8 x 1.25 mm', 'M8x1.25'],
    ['1/4-20', '1/4-20'], ['1/4-20 UNC', '1/4-20'], ['1/4"-20', '1/4-20'], ['1/4 in-20 UNC-2A', '1/4-20'], ['1/4 x 20', '1/4-20'],
    ['8/32-20', '1/4-20'], ['0.250-20', '1/4-20'], ['.3125-24', '5/16-24'], ['5/16-24UNF', '5/16-24'], ['5/16–18', '5/16-18'], ['5/16 UNF', '5/16-24'],
    ['#10-32', '#10-32'], ['10-32', '#10-32'], ['No. 10-32', '#10-32'], ['#10-24', '#10-24'], ['10-24 NC', '#10-24'], ['# 8-32', '#8-32'],
  ])('%s is %s', (written, name) => {
    expect(canonicalThreadName(written)).toBe(name);
  });

  it('refuses a long text without taking long', () => {
    expect(readThread('1/4-20 '.repeat(100_000))).toBeUndefined();
  });

  it('leaves every canonical name of the table as it is and gives its own figures back', () => {
    for (const row of THREADS) {
      expect(readThread(row.name)).toEqual({ name: row.name, series: row.series, majorMm: row.majorMm, pitchMm: row.pitchMm });
    }
    expect(THREADS).toHaveLength(43);
  });

  it('takes the coarse pitch where a metric size stands alone, as ISO 965-1 writes the coarse series', () => {
    expect(readThread('M12')).toEqual({ name: 'M12x1.75', series: 'ISO metric coarse', majorMm: 12, pitchMm: 1.75 });
  });

  it('says that it assumed the pitch of an inch size that stands alone, since 1/4-28 is written so too', () => {
    expect(readThread('1/4')).toEqual({ name: '1/4-20', series: 'UNC', majorMm: 6.35, pitchMm: 1.27, pitchAssumed: true });
    expect(readThread('5/16')?.pitchAssumed).toBe(true);
    expect(readThread('#10')?.name).toBe('#10-24');
    expect(readThread('5/16 UNC')?.pitchAssumed).toBeUndefined();
  });

  it('tells the near twins apart: M8 and 5/16, M6 and 1/4, M5 and #10', () => {
    const major = (name: string): number => readThread(name)!.majorMm;
    expect([major('M8'), major('5/16-18'), major('M6'), major('1/4-20'), major('M5'), major('#10-32')]).toEqual([8, 7.9375, 6, 6.35, 5, 4.826]);
    expect(readThread('M8')!.name).not.toBe(readThread('5/16-18')!.name);
    expect(readThread('M5x0.8')!.pitchMm).toBeCloseTo(0.8);
    expect(readThread('#10-32')!.pitchMm).toBeCloseTo(0.79375);
  });

  it('reads sizes outside the table where they are written in full, and not where the pitch is missing', () => {
    expect(readThread('M9x1')).toEqual({ name: 'M9x1', series: 'ISO metric', majorMm: 9, pitchMm: 1 });
    expect(readThread('M14x1.5')?.name).toBe('M14x1.5');
    expect(readThread('9/16-18')?.name).toBe('9/16-18');
    expect(readThread('1/4-32 UNEF')?.series).toBe('UN');
    expect(readThread('M9')).toBeUndefined();
    expect(readThread('9/16')).toBeUndefined();
  });

  it.each([
    '', 'M', 'x', '8', '10', '8mm', 'M8x', 'M8x-1', 'M8x125', 'M8x8', 'M0x1', 'M8x1.25x2', 'M8 x 1.2.5', 'M-8', '1/4-20 UNF', '1/4-28 UNC', '1/4-32 UNC', '5/16-24 UNC',
    '1/3-20', '4/4-20', '5/4-8', '0/4-20', '1/0-20', '1/4-0', '1/4-99', '10-8', '1-8', '#13-24', '#99-32', '20-32', 'stud', 'M８; DROP', '1/4-20-20', 'a thread', 'M8x1.25 LH',
    'M1e3', 'NaN', '__proto__',
  ])('%j is no thread', (written) => {
    expect(readThread(written)).toBeUndefined();
  });
});

describe('a thread name in a document', () => {
  it('is kept as it was given', () => {
    expect(threadName.parse('m8 x 1.25')).toBe('m8 x 1.25');
  });

  it('is refused in plain words where it names no thread', () => {
    expect(threadName.safeParse('stud').error?.issues[0]?.message).toBe('want:a thread such as M8x1.25, 1/4-20 or #10-32');
  });
});
