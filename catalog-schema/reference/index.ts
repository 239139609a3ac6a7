export { citeFact, type Fact } from './fact.ts';
export { THREADS, unifiedMajorMm, type AcrossFlats, type ThreadRow, type ThreadSeries } from './thread-table.ts';
