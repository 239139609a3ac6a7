import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openServices, type Services, type ServicesOptions } from './open-services.ts';

/** Services over a small database of a test's own, on a real file; `remove` closes them and takes the file away. */
export async function openTestServices(options: Omit<ServicesOptions, 'file'> & { file?: string } = {}): Promise<{ services: Services; file: string; remove(): Promise<void> }> {
  const folder = mkdtempSync(join(tmpdir(), 'lugwright-'));
  const file = options.file ?? join(folder, 'test.sqlite');
  const services = await openServices({ ...options, file });
  return {
    services, file,
    remove: async () => {
      await services.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
