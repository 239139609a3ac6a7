import type { JobDocument } from '../../../catalog-schema/index.ts';

/**
 * A short name of a JSON value: equal values, equal names, whatever the order of their keys. 64 bits in hexadecimal, by two lanes of
 * multiply and shift; tells a changed checklist from an unchanged one and protects against nobody who means to forge it.
 */
export function fingerprintOf(value: unknown): string {
  const written = writeCanonical(value);
  let a = 0x243f6a88;
  let b = 0x85a308d3;
  for (let at = 0; at < written.length; at++) {
    const code = written.charCodeAt(at);
    a = Math.imul(a ^ code, 0x9e3779b1);
    b = Math.imul(b ^ code, 0x85ebca77);
  }
  a = Math.imul(a ^ (a >>> 16), 0x85ebca6b) ^ Math.imul(b ^ (b >>> 13), 0xc2b2ae35);
  b = Math.imul(b ^ (b >>> 16), 0x85ebca6b) ^ Math.imul(a ^ (a >>> 13), 0xc2b2ae35);
  return `${toHex(a)}${toHex(b)}`;
}

/**
 * What a sign-off was given for: the machine, its wires, the choice and every tick. Names are not in it: where people sign in the
 * server writes who ticked, and the device that signed may have known them otherwise.
 */
export function fingerprintWork(document: JobDocument): string {
  const { record, chosen, asLeft = {} } = document;
  const { wires, system } = record as { readonly wires?: unknown; readonly system?: unknown };
  const ticks = Object.entries(asLeft).map(([id, { at, of, outcome, reading }]) => ({ id, at, of, outcome, reading }));
  ticks.sort((x, y) => (x.id < y.id ? -1 : 1));
  return fingerprintOf({ wires, system, chosen: chosen && { partId: chosen.partId, plan: chosen.plan }, ticks });
}

/** JSON with the keys of every object in order of code unit; what is undefined is left out. */
function writeCanonical(value: unknown): string {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? 'null';
  if (Array.isArray(value)) return `[${value.map(writeCanonical).join(',')}]`;
  const entries = Object.entries(value).filter(([, inner]) => inner !== undefined);
  entries.sort(([x], [y]) => (x < y ? -1 : 1));
  return `{${entries.map(([key, inner]) => `${JSON.stringify(key)}:${writeCanonical(inner)}`).join(',')}}`;
}

function toHex(lane: number): string {
  return (lane >>> 0).toString(16).padStart(8, '0');
}
