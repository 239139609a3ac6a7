import type { Probe } from './part-world.ts';

const SENTENCE = /^read the ohms between (\S+) and (\S+) with a (meter|supply)(?:, plus on (\S+))?, (at rest|held in)/;

/** The reading a line of `measureNext` asks for; null when it asks for something other than ohms. Throws at a line about ohms it cannot read. */
export function readProbe(what: string): Probe | null {
  const words = SENTENCE.exec(what);
  if (!words) {
    if (what.includes('ohms')) throw new Error(`cannot read what to measure: ${what}`);
    return null;
  }
  const [, a = '', b = '', by, plusOn = a, state] = words;
  return { plus: plusOn, minus: plusOn === a ? b : a, by: by === 'supply' ? 'supply' : 'meter', pulledIn: state === 'held in' };
}
