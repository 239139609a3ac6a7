import { text } from '../scalar.ts';
import { readThread } from './read-thread.ts';

/** A thread as a person writes it ('M8', 'M8 x 1.25', '1/4-20 UNC', '10-32'), kept as given here; `readThread` normalises it. */
export const threadName = text.refine((name) => readThread(name) !== undefined, {
  error: 'want:a thread such as M8x1.25, 1/4-20 or #10-32',
});
