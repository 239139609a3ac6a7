import { solveDense } from './dense-solve.ts';

/**
 * How much each zero-ohm tie (wire, jumper, strap) carries, once the currents drawn at its ends are known.
 * A tie that is the only way carries what lies behind it, exactly. Ties that close a loop share as equal small
 * resistances would.
 * @param from, to ends of each tie, node numbers; the current found counts from `from` to `to`
 * @param drawnA current each node's other elements draw from the ties, A; sums to zero over each joined group. Overwritten.
 * @returns the current of each tie, A
 */
export function shareTieCurrents(
  from: ArrayLike<number>, to: ArrayLike<number>, tieCount: number, drawnA: Float64Array,
): Float64Array {
  const amps = new Float64Array(tieCount);
  const open = new Uint8Array(tieCount).fill(1);
  const degree = new Int32Array(drawnA.length);
  let left = 0;
  for (let t = 0; t < tieCount; t++) {
    if (from[t] === to[t]) { open[t] = 0; continue; }
    degree[from[t]!]!++;
    degree[to[t]!]!++;
    left++;
  }
  for (let peeled = true; peeled;) {
    peeled = false;
    for (let t = 0; t < tieCount; t++) {
      if (!open[t]) continue;
      const a = from[t]!;
      const b = to[t]!;
      if (degree[b] === 1) {
        amps[t] = drawnA[b]!;
        drawnA[a]! += drawnA[b]!;
      } else if (degree[a] === 1) {
        amps[t] = -drawnA[a]!;
        drawnA[b]! += drawnA[a]!;
      } else continue;
      open[t] = 0;
      degree[a]!--;
      degree[b]!--;
      left--;
      peeled = true;
    }
  }
  if (left > 0) shareLoops(from, to, tieCount, open, drawnA, amps);
  return amps;
}

function shareLoops(
  from: ArrayLike<number>, to: ArrayLike<number>, tieCount: number, open: Uint8Array, drawnA: Float64Array, amps: Float64Array,
): void {
  const row = new Map<number, number>();
  for (let t = 0; t < tieCount; t++) {
    if (!open[t]) continue;
    if (!row.has(from[t]!)) row.set(from[t]!, row.size);
    if (!row.has(to[t]!)) row.set(to[t]!, row.size);
  }
  const size = row.size;
  const a = new Float64Array(size * size);
  const b = new Float64Array(size);
  const group = Int32Array.from({ length: size }, (_, i) => i);
  for (let t = 0; t < tieCount; t++) {
    if (!open[t]) continue;
    const i = row.get(from[t]!)!;
    const j = row.get(to[t]!)!;
    a[i * size + i]! += 1;
    a[j * size + j]! += 1;
    a[i * size + j]! -= 1;
    a[j * size + i]! -= 1;
    const oldGroup = group[j]!;
    for (let k = 0; k < size; k++) if (group[k] === oldGroup) group[k] = group[i]!;
  }
  for (const [node, i] of row) {
    b[i] = -drawnA[node]!;
    // One node of each joined group is held at zero, so that the group's matrix can be solved.
    if (group.indexOf(group[i]!) === i) a[i * size + i]! += 1;
  }
  solveDense(a, b, size, size);
  for (let t = 0; t < tieCount; t++) if (open[t]) amps[t] = b[row.get(from[t]!)!]! - b[row.get(to[t]!)!]!;
}
