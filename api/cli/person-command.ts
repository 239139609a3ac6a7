import type { Command } from 'commander';
import type { PersonState } from '../../catalog-schema/index.ts';
import type { Services } from '../services/index.ts';
import { askSecret } from './ask-secret.ts';
import { InputRefused, printJson, writeOut } from './tell.ts';
import { takeOutcome, useShop } from './use-shop.ts';

interface Options { readonly db?: string }

/** Names and PINs of those who may use the shop from the network. A PIN is asked for, never an argument: those stand in lists of processes and in histories. */
export function addPersonCommand(program: Command): void {
  const person = program.command('person').description('who may use this shop from the network');
  const add = (name: string, description: string, work: (services: Services, given: string) => Promise<void>): void => {
    person.command(`${name} <name>`).description(description)
      .option('--db <path>', 'the shop’s database (LUGWRIGHT_DB, else that of npm start)')
      .action((given: string, options: Options) => useShop(options.db, (services) => work(services, given)));
  };
  person.command('list').description('everybody, and who has to wait after wrong PINs')
    .option('--db <path>', 'the shop’s database (LUGWRIGHT_DB, else that of npm start)').option('--json', 'as JSON')
    .action((options: Options & { json?: boolean }) => useShop(options.db, async ({ people }) => {
      const all = await people.list();
      if (options.json) return writeOut(printJson(all));
      return writeOut(all.length === 0 ? 'Nobody yet: lugwright person add NAME\n'
        : all.map(({ name, waitsUntil }) => `${name}${waitsUntil === undefined ? '' : `, waits until ${waitsUntil} after wrong PINs`}\n`).join(''));
    }));
  add('add', 'let somebody in by a PIN of at least 6 digits, which is asked for', async ({ people }, name) => {
    const added = takeOutcome(await people.add(name, await askNewPin()), 'name', name);
    await writeOut(`${added.name} can sign in now\n`);
  });
  add('pin', 'give somebody a new PIN and sign them out everywhere', async (services, name) => {
    const { id, name: known } = await findNamedPerson(services, name);
    takeOutcome(await services.people.resetPin(id, await askNewPin()), 'name', name);
    await writeOut(`${known} has a new PIN and is signed out everywhere\n`);
  });
  add('unlock', 'let somebody who waits after wrong PINs try again at once', async (services, name) => {
    const { id, name: known } = await findNamedPerson(services, name);
    takeOutcome(await services.people.unlock(id), 'name', name);
    await writeOut(`${known} may try again\n`);
  });
  add('remove', 'take somebody away and sign them out everywhere; what they did keeps their name', async (services, name) => {
    const { id, name: known } = await findNamedPerson(services, name);
    takeOutcome(await services.people.remove(id), 'name', name);
    await writeOut(`${known} is taken away\n`);
  });
  for (const command of person.commands) command.exitOverride();
}

async function findNamedPerson({ people }: Services, name: string): Promise<PersonState> {
  const found = (await people.list()).find((each) => each.name.toLowerCase() === name.trim().toLowerCase());
  if (found === undefined) throw new InputRefused([{ path: 'name', found: JSON.stringify(name), want: 'the name of somebody who can sign in' }]);
  return found;
}

async function askNewPin(): Promise<string> {
  const pin = await askSecret('PIN, at least 6 digits: ');
  if (process.stdin.isTTY && await askSecret('The same again: ') !== pin) throw new InputRefused([{ path: 'pin', found: 'two that differ', want: 'the same PIN twice' }]);
  return pin;
}
