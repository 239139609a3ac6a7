import type { Fate, Gates, ProfileGate } from './gates.ts';
import { bitOf } from './index-bits.ts';
import type { PriceIndex } from './price-index.ts';

/** A record's demands against the codes of an index: what becomes of one part by what it says and leaves unsaid. */
export interface SlotJudge {
  judge(slot: number, profile: ProfileGate): Fate;
  /** of a slot that was judged in doubt: the gates in whose doubtful stretch it lies */
  doubtful(slot: number): number;
}

const DUTY_TIME = bitOf('dutyTime');
const SEALING = bitOf('sealing');

/**
 * Exact: parts are compared as the checks would, number against number, since codes stand in the order of the numbers.
 * What puts a part in doubt other than by a number (`profile.doubt`) is not looked at here.
 */
export function createSlotJudge({ snapshot, rows, masks }: PriceIndex, { columns, sealing }: Gates): SlotJudge {
  const gates = columns.map(({ column, low, high, sureLow, sureHigh }) => ({ codes: snapshot.column(column).codes, isDuty: column === 'dutyS', low, high, sureLow, sureHigh }));
  const doubtfulAt = (slot: number): number => {
    const row = rows[slot]!;
    const mask = masks[slot]!;
    let doubtful = 0;
    for (let at = 0; at < gates.length; at++) {
      const { codes, isDuty, low, high, sureLow, sureHigh } = gates[at]!;
      const code = codes[row]!;
      if (code === 0 || (isDuty && (mask & DUTY_TIME) !== 0)) continue;
      if (code < low || code > high) return -1;
      if (code < sureLow || code > sureHigh) doubtful |= 1 << at;
    }
    if (sealing && (mask & SEALING) === 0) {
      const fate = sealing.fates[snapshot.sealing[row]!]!;
      if (fate === 'out') return -1;
      if (fate === 'doubt') doubtful |= 1 << gates.length;
    }
    return doubtful;
  };
  return {
    judge: (slot, profile) => {
      const mask = masks[slot]!;
      if ((mask & profile.outMask) !== 0) return 'out';
      const doubtful = doubtfulAt(slot);
      return doubtful < 0 ? 'out' : doubtful > 0 || (mask & profile.doubtMask) !== 0 ? 'doubt' : 'sure';
    },
    doubtful: doubtfulAt,
  };
}
