import { z } from 'zod';
import { readInput, type Read } from '../input-fault.ts';
import { crankFault, FAULTS, type CrankFault } from '../prove-case.ts';
import { text, wanted, wholeZeroOrMore, zeroOrMore } from '../scalar.ts';
import { checkSound } from '../sound-check.ts';

/**
 * How often each fault is found on machines that do not crank, before anything is seen: any numbers, only their proportions count. A fault
 * left out keeps the product's own share.
 */
export const faultShares = z.partialRecord(crankFault, zeroOrMore).check(checkSound<Partial<Record<CrankFault, number>>>([], (shares, issues) => {
  if (FAULTS.every((fault) => shares[fault] === 0)) issues.push(wanted(0, [], 'a share above 0 for some fault'));
}));
export type FaultShares = z.infer<typeof faultShares>;

/** What the shop said, what its signed-off jobs taught, and what comes of both. */
export const faultSharesAnswer = z.strictObject({
  own: faultShares, shares: z.record(crankFault, z.number()),
  used: z.array(z.strictObject({ fault: crankFault, share: z.number(), n: wholeZeroOrMore, source: z.string(), reason: z.string() })),
  assumptions: z.array(z.string()),
});
export type FaultSharesAnswer = z.infer<typeof faultSharesAnswer>;

/** The shop's own shares in place of those it had: a fault left out has none. */
export const faultSharesEdit = z.strictObject({ own: faultShares, by: text.optional(), at: z.iso.datetime() });
export type FaultSharesEdit = z.infer<typeof faultSharesEdit>;

/** Reads shares by fault, or an answer that holds them. */
export function readFaultShares(value: unknown): Read<FaultShares> {
  const held = value !== null && typeof value === 'object' && 'shares' in value && 'used' in value ? (value as { shares: unknown }).shares : value;
  return readInput(faultShares, held);
}

/** How many closed jobs proved each fault. */
export type FaultCounts = Readonly<Partial<Record<CrankFault, number>>>;
