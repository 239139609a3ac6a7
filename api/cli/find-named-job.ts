import type { JobState } from '../../catalog-schema/index.ts';
import type { Services } from '../services/index.ts';
import { InputRefused } from './tell.ts';

/** A job by its id, by the beginning of its id, or by its whole title. */
export async function findNamedJob({ jobs }: Services, words: string): Promise<JobState> {
  const all = await jobs.list();
  const named = all.filter((each) => each.id === words.toLowerCase() || each.document.title === words);
  const found = named.length > 0 ? named : words.length >= 4 ? all.filter((each) => each.id.startsWith(words.toLowerCase())) : [];
  const [first] = found;
  if (first !== undefined && found.length === 1) return first;
  throw new InputRefused([{ path: 'job', found: JSON.stringify(words), want: found.length > 1 ? `an id: ${found.length} jobs are called so` : 'the id or the title of a job' }]);
}
