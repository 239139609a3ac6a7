// Major diameters of the threads of the simulated parts, mm (ISO 261; ASME B1.1: 1/4 in = 6.35, 5/16 in = 7.938, #8 = 4.166, #10 = 4.826).
export const THREAD_MM: Readonly<Record<string, number>> = {
  'M4x0.7': 4, 'M5x0.8': 5, 'M6x1': 6, 'M8x1.25': 8, 'M10x1.5': 10, '1/4-20': 6.35, '5/16-18': 7.938, '5/16-24': 7.938, '#8-32': 4.166, '#10-32': 4.826,
};
export const THREAD_PITCH_MM: Readonly<Record<string, number>> = {
  'M4x0.7': 0.7, 'M5x0.8': 0.8, 'M6x1': 1, 'M8x1.25': 1.25, 'M10x1.5': 1.5, '1/4-20': 1.27, '5/16-18': 1.411, '5/16-24': 1.058, '#8-32': 0.794, '#10-32': 0.794,
};

/** A ring goes on a stud that it is 0.1 to 1.5 mm wider than (the contract's rule). */
export function ringGoesOn(holeMm: number, thread: string | undefined): boolean {
  const majorMm = thread === undefined ? undefined : THREAD_MM[thread];
  if (majorMm === undefined) throw new Error(`no simulated part has thread ${thread}`);
  return holeMm - majorMm >= 0.1 - 1e-9 && holeMm - majorMm <= 1.5 + 1e-9;
}
