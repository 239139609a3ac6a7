export { listSections, type RecordSection } from './list-sections.ts';
export { RECORD_WORDS } from './words.ts';
export { writeRecord, type RecordFacts } from './write-record.ts';
