import { warmUpIdentify } from '../../api/engine/index.ts';
import { ENGINE_FUNCTIONS } from './engine-functions.ts';
import type { EngineQuestion, EngineReply } from './engine-protocol.ts';

declare const self: DedicatedWorkerGlobalScope;

self.addEventListener('message', (event: MessageEvent<EngineQuestion>) => {
  self.postMessage(answerQuestion(event.data));
});

// After what was already asked while this was loading.
setTimeout(warmUpIdentify);

function answerQuestion(question: EngineQuestion): EngineReply {
  const { id, name, args } = question;
  try {
    const called = ENGINE_FUNCTIONS[name as keyof typeof ENGINE_FUNCTIONS] as ((...given: unknown[]) => unknown) | undefined;
    if (called === undefined) throw new Error(`the engine has no function ${name}`);
    return { id, ok: true, value: called(...args) };
  } catch (error) {
    return { id, ok: false, message: error instanceof Error ? error.message : String(error) };
  }
}
