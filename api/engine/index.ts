export {
  answerAsLeft, fingerprintWork, findSignOffBlocks, isSignedOff, stateOfSignOff, type AsLeftBasis, type AsLeftFacts,
} from './as-left/index.ts';
export { writeRecord, type RecordFacts } from './record/index.ts';
export { findAsLeftBasis } from './as-left-basis/index.ts';
export { find, Finder } from './find/index.ts';
export { fit, SnapshotFitter, type FitOptions } from './fit/index.ts';
export { identify, warmUpIdentify } from './identify/index.ts';
export {
  measureAcross, measureCard, measureDistance, measureMarked, measurePlace, measureRound, measureSpacing, snapEdge, snapMarks,
  type CardMarks, type CardPlane, type EdgeMarks, type EdgeLine, type GreyPicture, type Length, type MarkedPhotograph, type MeasuredPhotograph, type MeasuredThing, type Middle,
  type Place, type Round, type SnappedEdge, type Tap,
} from './photograph/index.ts';
export { rewire, type RewireOptions } from './rewire/index.ts';
export { createSnapshotWriter, openSnapshot, writeSnapshot, type Snapshot, type SnapshotWriter } from './snapshot/index.ts';
export { learnLeadTime, listStandIns, planReorder, type LeadTime, type LeadTimePrior } from './reorder/index.ts';
export {
  arrivalDate, planOrders, type Column, type MixedIntegerAnswer, type MixedIntegerModel, type OrderLimits, type Row, type SentAt, type SolveMixedInteger,
} from './source/index.ts';
export { trace } from './trace/index.ts';
export { learnShares, prove, type ProveOptions } from './prove/index.ts';
