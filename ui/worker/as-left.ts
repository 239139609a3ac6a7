/**
 * The checklist's rules, called on the page itself. They are a few dozen comparisons, far less than a message to the worker takes, and a
 * reading has to be judged while the hand is still on the meter, also when the worker is busy with a fit. What costs something, the fit and
 * the wirings that a checklist stands on, is asked of the worker (`EngineClient.asLeft`).
 */
export {
  findSignOffBlocks, fingerprintWork, isChoiceStale, isSignedOff, judgeStep, makeChecklist, needsNewEnd, sayCaution, sayDetails, sayLimit, sayNext,
  sayShortTorque, sayStep, sayTerminal, sayTorque, stateOfSignOff, STEP_WORDS, writeWiring,
  type AsLeftBasis, type AsLeftFacts, type AsLeftStep, type JudgedStep, type StepSpeech,
} from '../../api/engine/as-left/index.ts';
