export { find } from './find/index.ts';
export { fit, type FitOptions } from './fit/index.ts';
export { identify } from './identify/index.ts';
export {
  measureAcross, measureCard, measureDistance, measurePlace, measureRound, snapEdge,
  type CardMarks, type CardPlane, type EdgeMarks, type GreyPicture, type Length, type Place, type Round, type SnappedEdge, type Tap,
} from './photograph/index.ts';
export { rewire, type RewireOptions } from './rewire/index.ts';
