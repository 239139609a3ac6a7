/**
 * Throws on a value the SQLite driver would store as something else without a word:
 * BigInt and NaN become NULL, an object '[object Object]', a Date a number of days, large integers are rounded.
 */
export function assertBindable(value: unknown, sql: string): void {
  const fault = findBindFault(value);
  if (fault !== undefined) throw new TypeError(`cannot bind ${fault} to: ${sql}`);
}

function findBindFault(value: unknown): string | undefined {
  switch (typeof value) {
    case 'string':
      return /\p{Surrogate}/u.test(value) ? 'text with half a surrogate pair' : undefined;
    case 'number':
      if (!Number.isFinite(value)) return String(value);
      return Number.isInteger(value) && !Number.isSafeInteger(value) ? `the integer ${value}, which is not exact` : undefined;
    case 'object':
      if (value === null || value instanceof Uint8Array) return undefined;
      return value instanceof Date ? 'a Date' : 'an object';
    default:
      return `a value of type ${typeof value}`;
  }
}
