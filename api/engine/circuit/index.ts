export { CIRCUIT_CONSTANTS } from './constants.ts';
export { solveNetwork } from './solve-network.ts';
export type { Network, NetworkElement, NetworkSolution } from './solve-network.ts';
export { MOST_PLUNGERS, settlePlungers, settleRelays, staysOrGoesIn } from './settle-relays.ts';
export type { Plunger, RelayCoil, RelayContact, RelayNetwork, RelayOutcome, SettledPlungers } from './settle-relays.ts';
export { checkBalance } from './check-balance.ts';
export type { Balance } from './check-balance.ts';
export { NodalSolver } from './nodal-solver.ts';
export { shareTieCurrents } from './tie-currents.ts';
