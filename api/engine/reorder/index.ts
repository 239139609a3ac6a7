export { learnLeadTime, type LeadTime, type LeadTimePrior } from './lead-time.ts';
