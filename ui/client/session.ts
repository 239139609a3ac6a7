import type { SessionState } from '../../catalog-schema/index.ts';
import type { AccessService } from './access-service.ts';

const KEY = 'lugwright.person';

/**
 * Who works on this device. What is entered without a network carries the name of whoever was signed in last: the server takes it from
 * that person only. Tells of news by an event named 'change'.
 */
export class Session extends EventTarget {
  /** as the server said last; undefined while it has not been reached since the page was opened */
  state: SessionState | undefined;
  #access: AccessService;
  #storage: Pick<Storage, 'getItem' | 'setItem' | 'removeItem'> | undefined;
  #person: string;

  constructor(access: AccessService, storage: Pick<Storage, 'getItem' | 'setItem' | 'removeItem'> | undefined) {
    super();
    this.#access = access;
    this.#storage = storage;
    this.#person = this.#readPerson();
  }

  /** who is signed in, or was last on this device and has not signed out; '' where nobody was */
  get person(): string { return this.#person; }
  /** the server answers nothing until somebody has signed in */
  get needsSignIn(): boolean { return this.state?.needsSignIn === true; }

  /** Asks the server how things stand; what is not reached stays as it was. */
  async read(): Promise<void> {
    try {
      this.#take(await this.#access.readSession());
    } catch { /* without a network everything goes on as before */ }
  }

  /** Rejects with a `ServiceFault`. */
  async signIn(name: string, pin: string): Promise<void> {
    this.#take(await this.#access.signIn({ name, pin }));
  }

  /** Rejects with a `ServiceFault`. */
  async signOut(): Promise<void> {
    const state = await this.#access.signOut();
    this.#setPerson('');
    this.#take(state);
  }

  #take(state: SessionState): void {
    this.state = state;
    if (state.person !== null) this.#setPerson(state.person.name);
    // A server that asks nobody's name does not need the last one.
    else if (!state.needsSignIn) this.#setPerson('');
    this.dispatchEvent(new Event('change'));
  }

  #setPerson(name: string): void {
    this.#person = name;
    try {
      if (name === '') this.#storage?.removeItem(KEY);
      else this.#storage?.setItem(KEY, name);
    } catch { /* storage may be full or barred: the name then lasts as long as the page */ }
  }

  #readPerson(): string {
    try { return this.#storage?.getItem(KEY) ?? ''; } catch { return ''; }
  }
}
