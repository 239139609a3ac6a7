import type { EngineQuestion, EngineReply } from './engine-protocol.ts';

/**
 * Asks a worker one question after another, each joined to its answer by a number. The worker is started at the first question; one
 * that has failed fails all open questions and is started anew at the next.
 */
export function createAsker(start: () => Worker): <T>(name: string, ...args: readonly unknown[]) => Promise<T> {
  let worker: Worker | undefined;
  let nextId = 1;
  const open = new Map<number, { resolve: (value: unknown) => void; reject: (reason: Error) => void }>();

  function startWorker(): Worker {
    const started = start();
    started.addEventListener('message', (event: MessageEvent<EngineReply>) => {
      const reply = event.data;
      const waiting = open.get(reply.id);
      open.delete(reply.id);
      if (reply.ok) waiting?.resolve(reply.value);
      else waiting?.reject(new Error(reply.message));
    });
    started.addEventListener('error', (event) => {
      for (const waiting of open.values()) waiting.reject(new Error(event.message || 'the worker did not start'));
      open.clear();
      started.terminate();
      worker = undefined;
    });
    return started;
  }

  return <T>(name: string, ...args: readonly unknown[]) => {
    worker ??= startWorker();
    const question: EngineQuestion = { id: nextId, name, args };
    nextId += 1;
    const reply = new Promise<T>((resolve, reject) => {
      open.set(question.id, { resolve: resolve as (value: unknown) => void, reject });
    });
    worker.postMessage(question);
    return reply;
  };
}
