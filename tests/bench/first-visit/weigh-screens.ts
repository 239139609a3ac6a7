import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';

/** Script that the first screen may bring, compressed as the server does it, bytes. */
export const MOST_BYTES = 150_000;

interface Chunk { readonly file: string; readonly imports?: readonly string[] }
export interface Weight { readonly screen: string; readonly files: number; readonly bytes: number }

/** The chunks of the screens that a person opens the page with: the list of jobs, and, from a wire's tag, a job at its first step. */
const SCREENS = {
  '/': ['screens/jobs/element.ts'],
  '/jobs/ID/as-found': ['screens/job/element.ts', 'screens/as-found/element.ts'],
} as const;
/** Fetched with a job; a chunk of its own unless a screen of the job imports it too, and then counted there. */
const WITH_A_JOB = 'client/job-sheet.ts';

/**
 * The scripts of the page itself and of each first screen, with all they import, compressed. Workers start beside the page and do not count.
 * @throws where the screens have not been built
 */
export function weighScreens(folder: string): Weight[] {
  const list = `${folder}/scripts.json`;
  if (!existsSync(list)) throw new Error(`${list} is missing: build the screens first (npm run build)`);
  const chunks = JSON.parse(readFileSync(list, 'utf8')) as Record<string, Chunk>;
  return Object.entries(SCREENS).map(([screen, entries]) => {
    const files = new Set<string>();
    const gather = (name: string): void => {
      const chunk = chunks[name];
      if (chunk === undefined) throw new Error(`no chunk ${name} in ${list}`);
      if (files.has(chunk.file)) return;
      files.add(chunk.file);
      for (const imported of chunk.imports ?? []) gather(imported);
    };
    for (const entry of ['index.html', ...entries]) gather(entry);
    if (screen !== '/' && chunks[WITH_A_JOB] !== undefined) gather(WITH_A_JOB);
    return { screen, files: files.size, bytes: [...files].reduce((sum, file) => sum + gzipSync(readFileSync(`${folder}/${file}`)).length, 0) };
  });
}

/** The screens as they were built for this checkout, or for `LUGWRIGHT_UI`. */
export function builtScreens(): string {
  return process.env['LUGWRIGHT_UI'] ?? fileURLToPath(new URL('../../../.local/ui', import.meta.url));
}

export function sayWeight(weights: readonly Weight[]): string {
  return `script of a first screen, compressed: ${weights.map(({ screen, bytes }) => `${screen} ${(bytes / 1000).toFixed(1)} kB`).join(', ')} (bound ${MOST_BYTES / 1000} kB)`;
}
