// A deliberately plain network solver: every element is a branch whose current is an unknown of its own, so a wire of
// almost no resistance needs no special case. Dense Gaussian elimination with row pivoting; diodes by trying every
// combination of conducting and blocking. Slow, short, and written without sight of the engine's solver.

/** V(from) - V(to) = emf + ohm x current, the current counted from `from` to `to`. Net 0 is chassis. */
export interface Branch { from: number; to: number; ohm: number; emf: number }
/** Conducts from -> to: 0.7 V and 10 mOhm. */
export interface DiodeBranch { from: number; to: number }
export interface Solution { volts: number[]; amps: number[]; diodeAmps: number[] }

const DIODE_V = 0.7;
const DIODE_OHM = 0.01;
/** Leak from each net to chassis, S: it grounds what floats, and is too small to be seen in any answer (1e-9 A at 12 V). */
const LEAK = 1e-10;
const SLACK = 1e-7;

/**
 * Voltages of the nets (V) and currents of the branches (A).
 * Throws where no combination of diodes is consistent: a network of resistors, sources and diodes always has one.
 */
export function solveNetwork(netCount: number, branches: readonly Branch[], diodes: readonly DiodeBranch[]): Solution {
  for (let combination = 0; combination < 2 ** diodes.length; combination++) {
    const conducting = diodes.map((_, index) => (combination & (1 << index)) !== 0);
    const solution = solveWith(netCount, branches, diodes, conducting);
    const consistent = diodes.every((diode, index) => (conducting[index]
      ? solution.diodeAmps[index]! >= -SLACK
      : solution.volts[diode.from]! - solution.volts[diode.to]! <= DIODE_V + SLACK));
    if (consistent) return solution;
  }
  throw new Error('no combination of conducting and blocking diodes is consistent');
}

function solveWith(
  netCount: number, branches: readonly Branch[], diodes: readonly DiodeBranch[], conducting: readonly boolean[],
): Solution {
  const on: Branch[] = [];
  diodes.forEach((diode, index) => {
    if (conducting[index]) on.push({ ...diode, ohm: DIODE_OHM, emf: DIODE_V });
  });
  const all = [...branches, ...on];
  const unknowns = netCount - 1;
  const size = unknowns + all.length;
  const rows = Array.from({ length: size }, () => Array.from({ length: size + 1 }, () => 0));
  for (let net = 1; net < netCount; net++) rows[net - 1]![net - 1] = LEAK;
  all.forEach((branch, index) => {
    const column = unknowns + index;
    const row = rows[column]!;
    if (branch.from !== branch.to) {
      if (branch.from > 0) { rows[branch.from - 1]![column]! += 1; row[branch.from - 1]! += 1; }
      if (branch.to > 0) { rows[branch.to - 1]![column]! -= 1; row[branch.to - 1]! -= 1; }
    }
    row[column]! -= branch.ohm;
    row[size] = branch.emf;
  });
  const x = eliminate(rows);
  const amps = x.slice(unknowns, unknowns + branches.length);
  let next = unknowns + branches.length;
  return { volts: [0, ...x.slice(0, unknowns)], amps, diodeAmps: conducting.map((isOn) => (isOn ? x[next++]! : 0)) };
}

/** Solves the augmented rows in place. */
function eliminate(rows: number[][]): number[] {
  const size = rows.length;
  for (let column = 0; column < size; column++) {
    let best = column;
    for (let row = column + 1; row < size; row++) {
      if (Math.abs(rows[row]![column]!) > Math.abs(rows[best]![column]!)) best = row;
    }
    const pivotRow = rows[best]!;
    if (pivotRow[column] === 0) throw new Error('a network with a leak at every net cannot be singular');
    rows[best] = rows[column]!;
    rows[column] = pivotRow;
    for (let row = column + 1; row < size; row++) {
      const target = rows[row]!;
      const factor = target[column]! / pivotRow[column]!;
      if (factor === 0) continue;
      for (let k = column; k <= size; k++) target[k]! -= factor * pivotRow[k]!;
    }
  }
  const x = Array.from({ length: size }, () => 0);
  for (let row = size - 1; row >= 0; row--) {
    let sum = rows[row]![size]!;
    for (let k = row + 1; k < size; k++) sum -= rows[row]![k]! * x[k]!;
    x[row] = sum / rows[row]![row]!;
  }
  return x;
}
