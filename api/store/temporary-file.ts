import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A path for a database of a test's own, in a folder that `remove` takes away. */
export function makeTemporaryFile(): { file: string; remove(): void } {
  const folder = mkdtempSync(join(tmpdir(), 'lugwright-'));
  return { file: join(folder, 'test.sqlite'), remove: () => rmSync(folder, { recursive: true, force: true }) };
}
