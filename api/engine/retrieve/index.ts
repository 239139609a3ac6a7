export { type ColumnGate, type Fate, type Gates, type ProfileGate, type SealingGate } from './gates.ts';
export { bitOf, UNSAID, type Unsaid } from './index-bits.ts';
export { createSlotJudge, type SlotJudge } from './judge-slot.ts';
export { compilePrices, slotOf, UNPRICED, type Partition, type PriceIndex } from './price-index.ts';
export { retrieve, type Found, type ScoreWeights } from './retrieve.ts';
export { SlotScan, type Wanted } from './slot-scan.ts';
