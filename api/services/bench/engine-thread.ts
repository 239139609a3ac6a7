import { parentPort } from 'node:worker_threads';
import type { Catalogue } from '../../../catalog-schema/index.ts';
import { find, findAsLeftBasis, fit, identify, openSnapshot, rewire, SnapshotFitter, trace, warmUpIdentify, writeSnapshot } from '../../engine/index.ts';
import type { EngineAnswers, EngineTask, FromThread, ToThread } from './engine-task.ts';

// The engine on a thread of its own: a long computation holds up nobody who only wants to read or write a job.

let catalogue: Catalogue = [];
let written: { readonly bytes: ArrayBuffer; readonly fitter: SnapshotFitter } | undefined;

parentPort!.on('message', (message: ToThread) => {
  if (message.kind === 'catalogue') {
    catalogue = message.parts;
    written = undefined;
    return;
  }
  parentPort!.postMessage(answer(message.id, message.task));
});

// After what was already asked while this was loading.
setTimeout(warmUpIdentify);

function answer(id: number, task: EngineTask): FromThread {
  try {
    return { id, answer: compute(task) };
  } catch (error) {
    return { id, error: error instanceof Error ? error.stack ?? error.message : String(error) };
  }
}

/** The catalogue as a snapshot: written when it is first asked for, kept until there is another. */
function openCatalogue(): { readonly bytes: ArrayBuffer; readonly fitter: SnapshotFitter } {
  if (!written) {
    const bytes = writeSnapshot(catalogue);
    const opened = openSnapshot(bytes);
    if (!opened.ok) throw new Error(`the snapshot just written does not open: ${opened.faults.map(({ found }) => found).join('; ')}`);
    written = { bytes, fitter: new SnapshotFitter(opened.value) };
  }
  return written;
}

function compute(task: EngineTask): EngineAnswers[keyof EngineAnswers] {
  switch (task.kind) {
    case 'identify': return identify(task.record);
    case 'fit': return openCatalogue().fitter.fit(task.record, task.wishes);
    case 'snapshot': return { bytes: openCatalogue().bytes, hash: openCatalogue().fitter.snapshot.hash };
    case 'rewire': return rewire(task.record, task.part);
    case 'as-left': {
      const { fits: [own] } = openCatalogue().fitter.fit(task.record, { all: true, only: { partIds: [task.part.id] } });
      // A part that came with its job and is not in this catalogue is fitted by itself.
      return findAsLeftBasis(task.record, task.part, own ?? fit(task.record, [task.part], { all: true }).fits[0]!, task.plan);
    }
    case 'find': return find(task.text, catalogue);
    case 'trace': return trace(task.record, task.tags);
    default: throw new Error(`no such task: ${JSON.stringify(task satisfies never)}`);
  }
}
