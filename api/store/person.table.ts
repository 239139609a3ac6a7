/** Somebody who may sign in. The PIN itself is nowhere: `hash` is scrypt of it with `salt`, N = 2 to the `costLog2`. */
export interface PersonTable {
  id: string;
  name: string;
  /** the name as it is compared: two people cannot have names that read alike */
  nameKey: string;
  salt: Uint8Array;
  hash: Uint8Array;
  costLog2: number;
  at: string;
}

/** Somebody signed in on some device. The device holds the token; this is its SHA-256. */
export interface SessionTable {
  tokenHash: string;
  personId: string;
  beganAt: string;
  seenAt: string;
}

/** Wrong PINs under one name, or from one address, since the last right one; nothing is tried again before `until`. */
export interface GuessTable {
  of: 'name' | 'address';
  key: string;
  failures: number;
  lastAt: string;
  until: string;
}
