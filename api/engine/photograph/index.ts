export { CARD_MM, type CardMarks, type EdgeMarks, type Tap } from './card.ts';
export { measureCard, type CardPlane } from './measure-card.ts';
export { measureAcross, measureDistance, measurePlace, measureRound, type Length, type Place, type Round } from './measure-taps.ts';
export { snapEdge, type GreyPicture, type SnappedEdge } from './snap-edge.ts';
