import { answerQuestion } from './answer-question.ts';
import type { EngineQuestion } from './engine-protocol.ts';
import { PICTURE_FUNCTIONS } from './picture-functions.ts';

declare const self: DedicatedWorkerGlobalScope;

self.addEventListener('message', (event: MessageEvent<EngineQuestion>) => {
  void answerQuestion(PICTURE_FUNCTIONS, 'pictures', event.data).then((reply) => {
    const value = reply.ok ? reply.value : undefined;
    self.postMessage(reply, value instanceof ImageBitmap ? [value] : []);
  });
});
