/** The next label for a wire: 'W' and the lowest number not used yet; follows bare numbers where all tags so far are such. */
export function proposeTag(tags: readonly string[]): string {
  const prefix = tags.length > 0 && tags.every((tag) => /^\d+$/.test(tag)) ? '' : 'W';
  const used = new Set(tags);
  let number = 1;
  while (used.has(`${prefix}${number}`)) number += 1;
  return `${prefix}${number}`;
}
