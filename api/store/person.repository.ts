import type { Db, Tx } from './database.ts';
import type { GuessTable, PersonTable, SessionTable } from './person.table.ts';

/** Everybody by name. */
export function listPeople(db: Db): Promise<PersonTable[]> {
  return db.selectFrom('person').selectAll().orderBy('nameKey').execute();
}

export function findPerson(db: Db, id: string): Promise<PersonTable | undefined> {
  return db.selectFrom('person').selectAll().where('id', '=', id).executeTakeFirst();
}

export function findPersonByName(db: Db, nameKey: string): Promise<PersonTable | undefined> {
  return db.selectFrom('person').selectAll().where('nameKey', '=', nameKey).executeTakeFirst();
}

export async function insertPerson(tx: Tx, person: PersonTable): Promise<void> {
  await tx.insertInto('person').values(person).execute();
}

export async function updatePin(tx: Tx, id: string, pin: Pick<PersonTable, 'salt' | 'hash' | 'costLog2'>): Promise<void> {
  await tx.updateTable('person').set(pin).where('id', '=', id).execute();
}

/** Takes somebody away; their sessions go with them. */
export async function deletePerson(tx: Tx, id: string): Promise<void> {
  await tx.deleteFrom('person').where('id', '=', id).execute();
}

export function findSession(db: Db, tokenHash: string): Promise<(SessionTable & { name: string }) | undefined> {
  return db.selectFrom('session').innerJoin('person', 'person.id', 'session.personId')
    .select(['tokenHash', 'personId', 'beganAt', 'seenAt', 'name']).where('tokenHash', '=', tokenHash).executeTakeFirst();
}

export async function insertSession(tx: Tx, session: SessionTable): Promise<void> {
  await tx.insertInto('session').values(session).execute();
}

export async function updateSeen(tx: Tx, tokenHash: string, seenAt: string): Promise<void> {
  await tx.updateTable('session').set({ seenAt }).where('tokenHash', '=', tokenHash).execute();
}

export async function deleteSession(tx: Tx, tokenHash: string): Promise<void> {
  await tx.deleteFrom('session').where('tokenHash', '=', tokenHash).execute();
}

/** Ends somebody's sessions, all but one where it is named. */
export async function deleteSessionsOf(tx: Tx, personId: string, but?: string): Promise<void> {
  await tx.deleteFrom('session').where('personId', '=', personId).$if(but !== undefined, (query) => query.where('tokenHash', '!=', but!)).execute();
}

/** Ends sessions begun, or last seen, before these moments. */
export async function deleteOldSessions(tx: Tx, begunBefore: string, seenBefore: string): Promise<void> {
  await tx.deleteFrom('session').where((eb) => eb.or([eb('beganAt', '<', begunBefore), eb('seenAt', '<', seenBefore)])).execute();
}

export function findGuess(db: Db, of: GuessTable['of'], key: string): Promise<GuessTable | undefined> {
  return db.selectFrom('guess').selectAll().where('of', '=', of).where('key', '=', key).executeTakeFirst();
}

/** Guesses at names, those that wait the longest first. */
export function listGuessesAtNames(db: Db): Promise<GuessTable[]> {
  return db.selectFrom('guess').selectAll().where('of', '=', 'name').orderBy('until', 'desc').execute();
}

export async function putGuess(tx: Tx, guess: GuessTable): Promise<void> {
  const { of: _of, key: _key, ...rest } = guess;
  await tx.insertInto('guess').values(guess).onConflict((conflict) => conflict.columns(['of', 'key']).doUpdateSet(rest)).execute();
}

export async function deleteGuess(tx: Tx, of: GuessTable['of'], key: string): Promise<void> {
  await tx.deleteFrom('guess').where('of', '=', of).where('key', '=', key).execute();
}

/** Forgets guesses whose last was before this moment. */
export async function deleteOldGuesses(tx: Tx, lastBefore: string): Promise<void> {
  await tx.deleteFrom('guess').where('lastAt', '<', lastBefore).where('until', '<', lastBefore).execute();
}
