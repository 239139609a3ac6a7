import type { IdentifyAnswer } from '../../../catalog-schema/index.ts';

/** What the parts of the answer say beside their findings. */
export interface Said {
  readonly cautions: Set<string>;
  readonly assumptions: Set<string>;
  readonly conflicts: IdentifyAnswer['conflicts'];
  /** readings not taken, with the information expected less the bother, bits */
  readonly open: IdentifyAnswer['measureNext'];
}
