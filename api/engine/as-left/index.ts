export { answerAsLeft, listWiring } from './answer-as-left.ts';
export type { AsLeftBasis } from './basis.ts';
export { coversWires, findChosenPlan, isChoiceStale, writeWiring } from './choice.ts';
export { fingerprintOf, fingerprintWork } from './fingerprint.ts';
export { asksOutcome, judgeStep, type JudgedStep, type OpenBecause, type StepMark, type Ticks } from './judge-step.ts';
export { makeSteps } from './make-steps.ts';
export { needsNewEnd } from './new-end.ts';
export {
  sayCaution, sayColour, sayDetails, sayEnd, sayFigure, sayLimit, sayNext, sayShortTorque, sayStep, sayTerminal, sayTorque, sayWire, type StepSpeech,
} from './say-step.ts';
export { findSignOffBlocks, makeChecklist, sayBad, type AsLeftFacts, type Checklist } from './sign-off.ts';
export { isSignedOff, stateOfSignOff, type SignOffState } from './sign-off-state.ts';
export type { AsLeftStep, ReadingKey, StepKind, Torque } from './step.ts';
export { findTorque } from './torque.ts';
export { STEP_WORDS } from './words.ts';
export type { Yardstick } from './yardsticks.ts';
