export { FAULT_SHARES, loadTestLimitV } from './fault-table.ts';
export { prove, type ProveOptions } from './prove.ts';
