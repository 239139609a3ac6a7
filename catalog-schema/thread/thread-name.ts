import { z } from 'zod';

/** A thread as a person writes it ('M8', 'M8 x 1.25', '1/4-20 UNC', '10-32'), kept as given here; `readThread` normalises it. */
export const threadName = z.string().max(2_000);
