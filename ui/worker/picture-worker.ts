import type { EngineQuestion, EngineReply } from './engine-protocol.ts';
import { PICTURE_FUNCTIONS } from './picture-functions.ts';

declare const self: DedicatedWorkerGlobalScope;

self.addEventListener('message', (event: MessageEvent<EngineQuestion>) => {
  void answerQuestion(event.data).then((reply) => {
    const value = reply.ok ? reply.value : undefined;
    self.postMessage(reply, value instanceof ImageBitmap ? [value] : []);
  });
});

async function answerQuestion(question: EngineQuestion): Promise<EngineReply> {
  const { id, name, args } = question;
  try {
    const called = PICTURE_FUNCTIONS[name as keyof typeof PICTURE_FUNCTIONS] as ((...given: unknown[]) => unknown) | undefined;
    if (called === undefined) throw new Error(`there is no function ${name} for pictures`);
    return { id, ok: true, value: await called(...args) };
  } catch (error) {
    return { id, ok: false, message: error instanceof Error ? error.message : String(error) };
  }
}
