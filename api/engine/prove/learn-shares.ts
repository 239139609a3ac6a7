import { FAULTS, type FaultCounts, type FaultShares, type FaultSharesAnswer } from '../../../catalog-schema/index.ts';
import { CIRCUIT_FIGURES, FAULT_SHARES } from './fault-table.ts';

/**
 * What is believed of each fault before anything is seen: the shop's own shares, else the table's, worth so many jobs, and the shop's closed
 * jobs on top (the mean of a Dirichlet distribution; conjugate to counts, a textbook result).
 * @param counts closed jobs that proved each fault
 * @returns one row for each fault with its share (they add up to 1) and n, how many jobs taught it
 */
export function learnShares(own: FaultShares, counts: FaultCounts): FaultSharesAnswer {
  const weight = CIRCUIT_FIGURES.sharesWeigh;
  const before = FAULTS.map((fault) => own[fault] ?? FAULT_SHARES[fault].share);
  const total = before.reduce((sum, share) => sum + share, 0);
  const jobs = FAULTS.reduce((sum, fault) => sum + (counts[fault] ?? 0), 0);
  const used = FAULTS.map((fault, index) => {
    const n = counts[fault] ?? 0;
    const isOwn = own[fault] !== undefined;
    return {
      fault, share: (weight.value * before[index]! / total + n) / (weight.value + jobs), n,
      source: isOwn ? 'the shop' : FAULT_SHARES[fault].source, reason: isOwn ? 'as the shop has set it' : FAULT_SHARES[fault].reason,
    };
  });
  return {
    own, used, shares: Object.fromEntries(used.map(({ fault, share }) => [fault, share])) as FaultSharesAnswer['shares'],
    assumptions: jobs === 0 ? [] : [`${weight.value} ${weight.unit}: ${weight.reason} (${weight.source}); ${jobs} closed ${jobs === 1 ? 'job' : 'jobs'} beside them`],
  };
}
