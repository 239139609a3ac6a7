/** A part number without case and separators; leading zeros count. '' for text without a letter or digit. */
export function normaliseNumber(number: string): string {
  return number.normalize('NFKC').toUpperCase().replace(/[^\p{L}\p{N}]/gu, '');
}
