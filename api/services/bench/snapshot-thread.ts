import { parentPort } from 'node:worker_threads';
import { createSnapshotWriter, openSnapshot } from '../../engine/index.ts';
import type { ToSnapshotThread } from './catalogue-files.ts';

// Writes one large catalogue into a file, and ends.

const writer = createSnapshotWriter();

parentPort!.on('message', (message: ToSnapshotThread) => {
  if (message.kind === 'parts') {
    for (const part of message.parts) writer.add(part);
    return;
  }
  const bytes = writer.finish();
  const opened = openSnapshot(bytes);
  if (!opened.ok) throw new Error(`the snapshot just written does not open: ${opened.faults.map(({ found }) => found).join('; ')}`);
  parentPort!.postMessage({ bytes, hash: opened.value.hash }, [bytes]);
  parentPort!.close();
});
