import { THREADS, readThread } from '../../catalog-schema/index.ts';

/** Nominal major diameter of a thread by its name, mm; undefined when the name is not read. */
export function majorDiameterMm(thread: string | undefined): number | undefined {
  return thread === undefined ? undefined : readThread(thread)?.majorMm;
}

/** A nut's width for a stud outside the tables, as a multiple of its diameter; common practice, no source. */
const NUT_OVER_MAJOR = 1.6;

/** Across flats of the nut drawn on a stud when nobody measured it, mm: the plain hexagon nut of the nearest size of the tables. */
export function usualNutMm(majorMm: number): number {
  let best: { off: number; mm: number } | undefined;
  for (const row of THREADS) {
    const nuts = row.acrossFlatsMm.filter((hexagon) => hexagon.on === 'nut');
    const plain = nuts.find((hexagon) => hexagon.what.startsWith('hex nut')) ?? nuts[0];
    const off = Math.abs(row.majorMm - majorMm);
    if (plain !== undefined && off < 0.5 && (best === undefined || off < best.off)) best = { off, mm: plain.mm };
  }
  return best?.mm ?? majorMm * NUT_OVER_MAJOR;
}
