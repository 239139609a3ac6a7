export { CARD_MM, type CardMarks, type EdgeMarks, type Tap } from './card.ts';
export { measureCard, type CardPlane } from './measure-card.ts';
export { measureAcross, measureDistance, measurePlace, measureRound, measureSpacing, type Length, type Middle, type Place, type Round } from './measure-taps.ts';
export { measureMarked, type EdgeLine, type MarkedPhotograph, type MeasuredPhotograph, type MeasuredThing } from './measure-marked.ts';
export { snapEdge, type GreyPicture, type SnappedEdge } from './snap-edge.ts';
export { snapMarks } from './snap-marks.ts';
