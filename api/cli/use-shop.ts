import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { openServices, type Outcome, type Services } from '../services/index.ts';
import { InputRefused } from './tell.ts';

/** The shop's database of a command: what was named, else the environment's, else the one that `npm start` serves. */
export function findShopFile(named: string | undefined): string {
  return named ?? process.env['LUGWRIGHT_DB'] ?? fileURLToPath(new URL('../../.local/demo.sqlite', import.meta.url));
}

/** Opens the shop's database for one command and closes it after. One that is not there is refused, not made. */
export async function useShop<T>(named: string | undefined, work: (services: Services) => Promise<T>): Promise<T> {
  const file = findShopFile(named);
  if (!existsSync(file)) throw new InputRefused([{ path: '--db', found: `no file ${JSON.stringify(file)}`, want: 'the database of a shop (npm start makes the demo’s)' }]);
  const services = await openServices({ file });
  try {
    return await work(services);
  } finally {
    await services.close();
  }
}

/** What a service answered; what it refused ends the command with a line for each fault. */
export function takeOutcome<T>(outcome: Outcome<T>, path: string, given: string): T {
  if (outcome.ok) return outcome.value;
  const { refusal } = outcome;
  switch (refusal.kind) {
    case 'faults': throw new InputRefused(refusal.faults);
    case 'not-found': throw new InputRefused([{ path, found: JSON.stringify(given), want: `something that is there: ${refusal.what}` }]);
    case 'conflict': throw new InputRefused([{ path, found: JSON.stringify(given), want: refusal.why }]);
    case 'busy': case 'signed-out': case 'wrong-pin': case 'wait': case 'other-person': throw new Error(`the shop refused: ${refusal.kind}`);
    default: throw new Error(`no such refusal: ${JSON.stringify(refusal satisfies never)}`);
  }
}
