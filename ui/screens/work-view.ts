import type { FitAnswer, IdentifyAnswer, OrderLine, ProveAnswer, Reservation, FaultSharesAnswer } from '../../catalog-schema/index.ts';
import type { Desk, WorkSheet } from '../client/index.ts';
import type { AsLeftBasis, FitQuestion } from '../worker/index.ts';
import type { StepName, StepReports } from './step-states.ts';

/** What the engine says of the record as it stands. The last answers stay while new ones are worked out. */
export interface Findings {
  readonly fit: FitAnswer | undefined;
  /** so many of its fits are the list, best first; one behind them was asked for by name */
  readonly listed: number;
  /** what the question carried beside the record: further questions about the same record carry it too */
  readonly question: FitQuestion;
  readonly identify: IdentifyAnswer | undefined;
  readonly working: boolean;
  /** why there is no answer; '' while there is none to give */
  readonly failed: string;
}

/** What the engine says of what was seen of the fault. */
export interface Proof {
  /** the last answer; what was seen may have changed since */
  readonly answer: ProveAnswer | undefined;
  /** `keys[i]` is the entry in the job that the answer calls `seen[i]` */
  readonly keys: readonly string[];
  /** the answer is to what the job holds now */
  readonly current: boolean;
  /** why there is none; '' while there is none to give */
  readonly failed: string;
  /** how often each fault is found here; undefined until read */
  readonly shares: FaultSharesAnswer | undefined;
}

/** What is put aside or drafted for the job; at the counter, what this page put aside. */
export interface Holdings {
  readonly reservations: readonly Reservation[];
  readonly orderLines: readonly OrderLine[];
  /** why they could not be read; '' where they were */
  readonly failed: string;
}

/** Everything a step's screen is given. A new object at each change. */
export interface WorkView {
  readonly desk: Desk;
  readonly sheet: WorkSheet;
  readonly findings: Findings;
  readonly holdings: Holdings;
  readonly proof: Proof;
  /** goes by these shares from now on */
  readonly takeShares: (shares: FaultSharesAnswer) => void;
  /** what the checklist of the chosen part stands on; undefined until the engine has answered for the sheet as it is */
  readonly basis: AsLeftBasis | undefined;
  /** why it could not be worked out; '' where it was, or may still be */
  readonly basisFailed: string;
  readonly reports: StepReports;
  /** the address the steps lie under: '/jobs/ID' or '/counter' */
  readonly base: string;
  readonly step: StepName;
  /** what is open within the step */
  readonly detail: string | undefined;
  /** reads them again; `ownId` is something this page has just put aside or drafted */
  readonly reloadHoldings: (ownId?: string) => Promise<void>;
}
