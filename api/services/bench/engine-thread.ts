import { parentPort } from 'node:worker_threads';
import type { Catalogue } from '../../../catalog-schema/index.ts';
import { find, fit, identify, rewire } from '../../engine/index.ts';
import type { EngineAnswers, EngineTask, FromThread, ToThread } from './engine-task.ts';

// The engine on a thread of its own: a long computation holds up nobody who only wants to read or write a job.

let catalogue: Catalogue = [];

parentPort!.on('message', (message: ToThread) => {
  if (message.kind === 'catalogue') {
    catalogue = message.parts;
    return;
  }
  parentPort!.postMessage(answer(message.id, message.task));
});

function answer(id: number, task: EngineTask): FromThread {
  try {
    return { id, answer: compute(task) };
  } catch (error) {
    return { id, error: error instanceof Error ? error.stack ?? error.message : String(error) };
  }
}

function compute(task: EngineTask): EngineAnswers[keyof EngineAnswers] {
  switch (task.kind) {
    case 'identify': return identify(task.record);
    case 'fit': return fit(task.record, catalogue, task.wishes);
    case 'rewire': return rewire(task.record, task.part);
    case 'find': return find(task.text, catalogue);
    default: throw new Error(`no such task: ${JSON.stringify(task satisfies never)}`);
  }
}
