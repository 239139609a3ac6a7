/** Electrical configurations solved for one part before its search is cut off. */
export const DEFAULT_EVALUATIONS = 20_000;
/** Steps through ways to hang wires and jumpers before it is. */
export const DEFAULT_CANDIDATES = 2_000_000;
export const MOST_JUMPERS = 2;
