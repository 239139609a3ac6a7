export { learnLeadTime, type LeadTime, type LeadTimePrior } from './lead-time.ts';
export { planReorder } from './plan-reorder.ts';
export { listStandIns } from './stand-ins.ts';
