/** The address of a look-up. Dots alone would be taken for a folder. */
export function findPath(text: string): string {
  const asked = text.trim();
  return /^\.*$/.test(asked) ? '/find' : `/find/${encodeURIComponent(asked.replace(/\p{Surrogate}/gu, '\uFFFD'))}`;
}
