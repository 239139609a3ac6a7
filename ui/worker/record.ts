/** The customer's page, composed on the page itself: it reads what the job holds and computes nothing. */
export { listSections, RECORD_WORDS, writeRecord, type RecordFacts } from '../../api/engine/record/index.ts';
