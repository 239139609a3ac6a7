import type { JobDocument } from '../../../catalog-schema/index.ts';
import { fingerprintWork } from './fingerprint.ts';

export type SignOffState = 'none' | 'stands' | 'lapsed';

/**
 * Does the sign-off of a job stand? It was given for one state of wires, choice and ticks; for another it has lapsed. Needs no part:
 * that the state could be signed was checked when the sign-off came.
 */
export function stateOfSignOff(document: JobDocument): SignOffState {
  const { signedOff } = document;
  if (signedOff === undefined) return 'none';
  return signedOff.of === fingerprintWork(document) ? 'stands' : 'lapsed';
}

/** Is a job signed off as it stands? Everybody asks this instead of looking whether somebody once signed. */
export function isSignedOff(document: JobDocument): boolean {
  return stateOfSignOff(document) === 'stands';
}
