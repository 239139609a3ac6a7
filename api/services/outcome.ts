import type { InputFault } from '../../catalog-schema/index.ts';

/** Why something asked for was not done. Each door says it in its own way. */
export type Refusal =
  | { readonly kind: 'faults'; readonly faults: readonly InputFault[] }
  | { readonly kind: 'not-found'; readonly what: string }
  | { readonly kind: 'conflict'; readonly why: string }
  | { readonly kind: 'signed-out' }
  | { readonly kind: 'wrong-pin' }
  /** too many wrong PINs: nothing is tried before this moment */
  | { readonly kind: 'wait'; readonly until: Date }
  /** something is said in the name of another than who asks */
  | { readonly kind: 'other-person'; readonly why: string }
  | { readonly kind: 'busy'; readonly why: string };

export type Outcome<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly refusal: Refusal };

export function done<T>(value: T): Outcome<T> {
  return { ok: true, value };
}

export function refuse(refusal: Refusal): { readonly ok: false; readonly refusal: Refusal } {
  return { ok: false, refusal };
}

export function refuseFault(path: string, found: string, want: string): { readonly ok: false; readonly refusal: Refusal } {
  return refuse({ kind: 'faults', faults: [{ path, found, want }] });
}
