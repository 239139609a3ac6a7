import { describe, expect, it } from 'vitest';
import { weighIdeally } from './ideal-threads.ts';
import { measureThreads, THREAD_BOUNDS } from './measure-threads.ts';
import { TRUE_THREADS } from './stud-world.ts';

describe('threads of simulated studs', () => {
  const { sets, lines } = measureThreads(1000, 20261);

  it('are told within one percentage point of an ideal that knows how the studs were drawn', () => {
    for (const { instruments, accuracy, ideal } of sets) expect(ideal - accuracy, `${instruments}\n${lines.join('\n')}`).toBeLessThanOrEqual(THREAD_BOUNDS.behindIdeal);
  });

  it('are told in at least 97 % where the pitch was measured', () => {
    for (const { accuracy } of sets.slice(2)) expect(accuracy, lines.join('\n')).toBeGreaterThanOrEqual(THREAD_BOUNDS.withPitch);
  });

  it('are not told from the diameter alone, nor by the ideal', () => {
    expect(sets[0]!.ideal).toBeLessThan(0.85);
  });
});

describe('the ideal', () => {
  it('leaves M8 and 5/16 open between their zones and settles them by the pitch', () => {
    const shareOf = (name: string, readings: Parameters<typeof weighIdeally>[0]) => weighIdeally(readings)[TRUE_THREADS.findIndex((thread) => thread.name === name)]!;
    // ISO 965-1 M8 6g 7.760 to 7.972 mm, ASME B1.1 5/16-18 UNC 2A 7.686 to 7.907 mm
    expect(shareOf('M8x1.25', { caliper: 7.83 })).toBeLessThan(0.7);
    expect(shareOf('5/16-18', { caliper: 7.83 })).toBeGreaterThan(0.2);
    expect(shareOf('M8x1.25', { caliper: 7.83, pitch: 1.25 })).toBeGreaterThan(0.999);
  });
});
