// Apart from the queue: with it comes the reading of whole documents, which a page that begins no job does without.
export { stateOfNewJob } from '../../catalog-schema/index.ts';
