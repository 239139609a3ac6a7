import { fingerprintOf } from './fingerprint.ts';

/** Longest name that stands in an id as it is: the id is a key of the job's document and a field of its edits. */
const LONGEST_NAME = 100;

/** The id of a step that is about something with a name: a wire's tag, an interlock. */
export function nameStep(what: string, name: string): string {
  return `${what}-${name.length <= LONGEST_NAME ? name : fingerprintOf(name)}`;
}
