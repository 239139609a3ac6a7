/** So many parts go beside the removed one. */
export const MOST_PICKED = 3;

const MARK = '&';

/** The last step of an address that lays these parts side by side. */
export function writePicked(partIds: readonly string[]): string {
  return encodeURIComponent(partIds.map((id) => `${MARK}${encodeURIComponent(id)}`).join(''));
}

/**
 * The parts that an address lays side by side, by its decoded last step; undefined where it opens one part or none. A part whose own id
 * begins with the mark is one part.
 */
export function readPicked(detail: string | undefined, parts: { has(id: string): boolean }): string[] | undefined {
  if (detail === undefined || !detail.startsWith(MARK) || parts.has(detail)) return undefined;
  try {
    return [...new Set(detail.slice(MARK.length).split(MARK).map(decodeURIComponent))].filter((id) => id !== '').slice(0, MOST_PICKED);
  } catch {
    return undefined;
  }
}
