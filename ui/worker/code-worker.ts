import { answerQuestion } from './answer-question.ts';
import { CODE_FUNCTIONS } from './code-functions.ts';
import type { EngineQuestion } from './engine-protocol.ts';

declare const self: DedicatedWorkerGlobalScope;

self.addEventListener('message', (event: MessageEvent<EngineQuestion>) => {
  void answerQuestion(CODE_FUNCTIONS, 'codes', event.data).then((reply) => self.postMessage(reply));
});
