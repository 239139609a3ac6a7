import type { CrankNode } from '../../../catalog-schema/index.ts';

/** Where a person has put the probes. */
export interface Probes { readonly plus: CrankNode | undefined; readonly minus: CrankNode | undefined; readonly held: boolean }

/** A tap on a point: the first is the red probe's, the second the black one's; on a probe's own point it is taken off; a third tap begins anew. */
export function tapPoint(probes: Probes, node: CrankNode): Probes {
  const { plus, minus } = probes;
  if (node === plus) return { ...probes, plus: undefined };
  if (node === minus) return { ...probes, minus: undefined };
  if (plus === undefined) return { ...probes, plus: node };
  return minus === undefined ? { ...probes, minus: node } : { ...probes, plus: node, minus: undefined };
}
