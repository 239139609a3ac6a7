import type { IdentifyAnswer } from '../../../catalog-schema/index.ts';

/** What the parts of the answer say beside their findings. */
export interface Said {
  readonly cautions: Set<string>;
  readonly assumptions: Set<string>;
  readonly conflicts: IdentifyAnswer['conflicts'];
  readonly open: IdentifyAnswer['measureNext'];
}
