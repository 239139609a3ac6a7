export { answerAsLeft } from './answer-as-left.ts';
export type { AsLeftBasis } from './basis.ts';
export { isChoiceStale, writeWiring } from './choice.ts';
export { fingerprintWork } from './fingerprint.ts';
export { judgeStep, type JudgedStep } from './judge-step.ts';
export { needsNewEnd } from './new-end.ts';
export {
  sayCaution, sayColour, sayDetails, sayEnd, sayLimit, sayNext, sayShortTorque, sayStep, sayTerminal, sayTorque, type StepSpeech,
} from './say-step.ts';
export { findSignOffBlocks, makeChecklist, type AsLeftFacts } from './sign-off.ts';
export { isSignedOff, stateOfSignOff } from './sign-off-state.ts';
export type { AsLeftStep } from './step.ts';
export { STEP_WORDS } from './words.ts';
