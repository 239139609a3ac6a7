import { parentPort } from 'node:worker_threads';
import type { Catalogue } from '../../../catalog-schema/index.ts';
import { findAsLeftBasis, Finder, fit, identify, openSnapshot, prove, rewire, SnapshotFitter, planOrders, trace, warmUpIdentify, writeSnapshot } from '../../engine/index.ts';
import { openSolver } from '../solver/open-solver.ts';
import type { EngineAnswers, EngineTask, FromThread, ToThread } from './engine-task.ts';

// The engine on a thread of its own: a long computation holds up nobody who only wants to read or write a job.

let catalogue: Catalogue = [];
/** the parts as a file, and the file of a catalogue that was written elsewhere */
let written: OpenFile | undefined;
let given: OpenFile | undefined;
let finder: { readonly of: unknown; readonly finder: Finder } | undefined;
/** loaded when orders are first planned */
let solver: ReturnType<typeof openSolver> | undefined;
interface OpenFile { readonly bytes: ArrayBuffer; readonly fitter: SnapshotFitter }

parentPort!.on('message', (message: ToThread) => {
  switch (message.kind) {
    case 'catalogue':
      catalogue = message.parts;
      written = undefined;
      finder = undefined;
      return;
    case 'file':
      given = message.bytes && openFile(message.bytes);
      return;
    case 'task':
      void answer(message.id, message.task).then((from) => parentPort!.postMessage(from));
      return;
    default: throw new Error(`no such message: ${JSON.stringify(message satisfies never)}`);
  }
});

// After what was already asked while this was loading.
setTimeout(warmUpIdentify);

async function answer(id: number, task: EngineTask): Promise<FromThread> {
  try {
    return { id, answer: await compute(task) };
  } catch (error) {
    return { id, error: error instanceof Error ? error.stack ?? error.message : String(error) };
  }
}

/** The catalogue as a snapshot: where it came as parts, written when it is first asked for; kept until there is another. */
function openCatalogue(): OpenFile {
  return given ?? (written ??= openFile(writeSnapshot(catalogue)));
}

/** The index of what parts are found by; made when something is first looked for in a catalogue. */
function openFinder(): Finder {
  const of = given?.fitter.snapshot ?? catalogue;
  if (finder?.of !== of) finder = { of, finder: new Finder(of) };
  return finder.finder;
}

function openFile(bytes: ArrayBuffer): OpenFile {
  const opened = openSnapshot(bytes);
  if (!opened.ok) throw new Error(`the snapshot just written does not open: ${opened.faults.map(({ found }) => found).join('; ')}`);
  return { bytes, fitter: new SnapshotFitter(opened.value) };
}

function compute(task: EngineTask): EngineAnswers[keyof EngineAnswers] | Promise<EngineAnswers['source']> {
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
    case 'find': return openFinder().find(task.text, task.shop);
    case 'trace': return trace(task.record, task.tags);
    case 'prove': return prove(task.crankCase, task.shares && { shares: task.shares });
    case 'source': return (solver ??= openSolver()).then((solve) => {
      const began = performance.now();
      return planOrders(task.need, solve, { seconds: task.seconds, elapsed: () => (performance.now() - began) / 1000 });
    });
    default: throw new Error(`no such task: ${JSON.stringify(task satisfies never)}`);
  }
}
