/**
 * Nominal major diameter of a thread by its name, mm; undefined when the name is not read.
 * Metric 'M8x1.25' (ISO 261); inch '1/4-20'; numbered '#10-32' or '10-32': 0.060 in + 0.013 in a number (ASME B1.1).
 */
export function majorDiameterMm(thread: string | undefined): number | undefined {
  const text = (thread ?? '').trim();
  const metric = /^M\s*(\d+(?:[.,]\d+)?)/i.exec(text);
  if (metric) return Number(metric[1]!.replace(',', '.'));
  const fraction = /^(?:(\d+)[\s-])?(\d+)\/(\d+)/.exec(text);
  if (fraction) return 25.4 * (Number(fraction[1] ?? 0) + Number(fraction[2]) / Number(fraction[3]));
  const numbered = /^#?(\d{1,2})\s*-\s*\d+/.exec(text);
  if (numbered) return 25.4 * (0.06 + 0.013 * Number(numbered[1]));
  return undefined;
}

/** Across flats of the usual nut by major diameter, mm: ISO 4032 and ASME B18.2.2 / B18.6.3 (M10 by ISO 4032: 16). */
const NUTS: readonly (readonly [majorMm: number, acrossFlatsMm: number])[] = [
  [3, 5.5], [3.5, 6], [4, 7], [4.166, 8.73], [4.826, 9.525], [5, 8], [6, 10], [6.35, 11.11], [7.938, 12.7], [8, 13],
  [9.525, 14.29], [10, 16], [11.113, 17.46], [12, 18], [12.7, 19.05],
];

/** Across flats of the nut drawn on a stud when nobody measured it, mm: the nearest size of the tables. */
export function usualNutMm(majorMm: number): number {
  let best = NUTS[0]!;
  for (const nut of NUTS) if (Math.abs(nut[0] - majorMm) < Math.abs(best[0] - majorMm)) best = nut;
  return Math.abs(best[0] - majorMm) < 0.5 ? best[1] : majorMm * 1.6;
}
