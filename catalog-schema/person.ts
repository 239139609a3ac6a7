import { z } from 'zod';
import { text } from './scalar.ts';

/** Somebody who may use the server from the network. */
export const personState = z.strictObject({
  id: z.uuid(), name: text.min(1), at: z.iso.datetime(),
  /** wrong PINs were tried: nothing more is before this moment */
  waitsUntil: z.iso.datetime().optional(),
});
export type PersonState = z.infer<typeof personState>;

/** A PIN on its way; what may be one is decided where it is set. */
const pin = z.string().max(100);

export const newPerson = z.strictObject({ name: text, pin });
export type NewPerson = z.infer<typeof newPerson>;

export const signIn = z.strictObject({ name: text, pin });
export type SignIn = z.infer<typeof signIn>;

export const pinChange = z.strictObject({ pin, newPin: pin });
export type PinChange = z.infer<typeof pinChange>;

export const pinReset = z.strictObject({ pin });

/** How the server is open, and who asks. */
export const sessionState = z.strictObject({
  /** other devices on the network reach this server too */
  network: z.boolean(),
  /** the request comes from the machine the server runs on */
  here: z.boolean(),
  /** who is signed in; null: nobody is */
  person: z.strictObject({ name: text }).nullable(),
  /** nothing but signing in is answered until somebody has */
  needsSignIn: z.boolean(),
});
export type SessionState = z.infer<typeof sessionState>;
