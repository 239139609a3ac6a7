/**
 * A column of numbers as codes: 0 where the part does not say, else 1 + the place of the number among the distinct ones in order. So codes
 * compare as the numbers do, to the last bit, in two bytes a part (four where there are more than 65,535 different numbers).
 */
export interface ValueColumn {
  readonly codes: Uint16Array | Uint32Array;
  /** the distinct numbers, rising; `values[code - 1]` */
  readonly values: Float64Array;
}

export function encodeColumn(numbers: Float64Array, order: Uint32Array): ValueColumn {
  const values = distinct(numbers);
  const codeOf = new Map<number, number>();
  values.forEach((value, index) => codeOf.set(value, index + 1));
  const codes = values.length < 0xffff ? new Uint16Array(order.length) : new Uint32Array(order.length);
  for (let row = 0; row < order.length; row++) {
    const number = numbers[order[row]!]!;
    codes[row] = Number.isNaN(number) ? 0 : codeOf.get(number)!;
  }
  return { codes, values };
}

/** The least code from 1 for which `holds`, which once true stays true; count + 1 where it never is. */
export function firstCodeWhere(count: number, holds: (code: number) => boolean): number {
  let low = 1;
  let high = count + 1;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}

function distinct(numbers: Float64Array): Float64Array {
  const sorted = numbers.filter((number) => !Number.isNaN(number)).sort();
  let count = 0;
  for (let at = 0; at < sorted.length; at++) {
    // -0 and 0 are one number: a Map takes them for the same.
    if (at === 0 || sorted[at] !== sorted[at - 1]) sorted[count++] = sorted[at]!;
  }
  return sorted.slice(0, count);
}
