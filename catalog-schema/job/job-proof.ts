import { z } from 'zod';
import type { BenchRecord } from '../bench-record.ts';
import { LIMITS } from '../limits.ts';
import { crankInstruments, crankObservation, type CrankAsk, type CrankNode, type Observation, type ProveCase } from '../prove-case.ts';
import { aboveZero, celsius, identifier, wanted } from '../scalar.ts';
import { checkSound } from '../sound-check.ts';

const seenByKey = z.record(identifier, crankObservation).check(
  checkSound<Record<string, Observation>>(['*.kind', '*.plus', '*.minus'], (seen, issues) => {
    const entries = Object.entries(seen);
    if (entries.length > LIMITS.seen) issues.push(wanted(entries.length, [], `at most ${LIMITS.seen} entries`));
    for (const [key, entry] of entries) {
      if (entry.kind === 'volts' && entry.plus === entry.minus) issues.push(wanted(entry.minus, [key, 'minus'], 'a point other than plus'));
    }
  }),
);

/** What a job holds of the proof: facts of the machine, what there is to measure with, and what was seen, each under the key of what was done. */
export const jobProof = z.strictObject({
  system: z.strictObject({ batteryCcaA: aboveZero.optional(), ambientC: celsius.optional() }).optional(),
  instruments: crankInstruments.optional(),
  seen: seenByKey.optional(),
});
export type JobProof = z.infer<typeof jobProof>;

/**
 * The key under which an observation stands in a job: what was done, not what it showed. Done again it takes the place of what it showed
 * before, and two devices that did the same write one field. The two points of a reading are in the order of their names.
 */
export function keyOfObservation(done: Observation | CrankAsk): string {
  switch (done.kind) {
    case 'sound': case 'crank': return `${done.kind} ${done.startSwitch === false ? 'off' : 'on'}`;
    case 'volts': return ['volts', ...([done.plus, done.minus] satisfies CrankNode[]).toSorted(), done.startSwitch ? 'on' : 'off'].join(' ');
    case 'amps': case 'bridge-studs': case 'turn-by-hand': case 'battery-load': return done.kind;
  }
}

/** A job's case as the engine is asked it; `keys[i]` is the key of `seen[i]`. Nothing seen: an empty case, which asks for the first test. */
export function proveCaseOf({ document, record }: { readonly document: { readonly prove?: JobProof | undefined }; readonly record: BenchRecord }): { crankCase: ProveCase; keys: string[] } {
  const { system, instruments, seen = {} } = document.prove ?? {};
  const batteryCcaA = system?.batteryCcaA ?? record.demand?.from?.batteryCcaA;
  return {
    crankCase: {
      system: {
        nominalV: record.system.nominalV,
        ...(batteryCcaA === undefined ? {} : { batteryCcaA }), ...(system?.ambientC === undefined ? {} : { ambientC: system.ambientC }),
      },
      ...(instruments === undefined ? {} : { instruments }),
      seen: Object.values(seen),
    },
    keys: Object.keys(seen),
  };
}
