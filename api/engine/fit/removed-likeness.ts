import { intervalOf, type BenchRecord, type InstrumentClass, type Part, type RecordTerminal, type Terminal } from '../../../catalog-schema/index.ts';
import { threadOf } from '../part-facts.ts';
import { settingOf } from '../settings.ts';

/**
 * Whether a part has the terminals of the removed one: as many of each form, and for each size that was read one that agrees. Families share
 * their terminals as they share their brackets, so this speaks for what nobody read. A part of which no terminal is known is taken for alike.
 * @returns undefined where the record lists no terminals
 */
export function hasSameTerminals(record: BenchRecord, part: Pick<Part, 'terminals'>): boolean | undefined {
  const { terminals } = record;
  if (!terminals) return undefined;
  if (part.terminals.length === 0) return true;
  return haveSameForms(terminals, part.terminals) && terminals.every((old) => part.terminals.some((own) => own.form === old.form && agrees(old, own)));
}

/** Asked for each list of terminals of a large catalogue: nothing is made for it. */
function haveSameForms(some: readonly Pick<Terminal, 'form'>[], others: readonly Pick<Terminal, 'form'>[]): boolean {
  const count = (list: typeof some, form: Terminal['form']): number => {
    let sum = 0;
    for (const each of list) if (each.form === form) sum++;
    return sum;
  };
  return some.length === others.length && some.every(({ form }) => count(some, form) === count(others, form));
}

/** Where both give a size, whether the reading can be of it; a thread's crests lie a little under its nominal diameter. */
function agrees(old: RecordTerminal, own: Terminal): boolean {
  const apart = settingOf('alikeMm');
  const near = (read: RecordTerminal['tabWidthMm'], instrument: InstrumentClass, nominalMm: number | undefined): boolean => {
    if (read === undefined || nominalMm === undefined) return true;
    const { low, high } = intervalOf(read, instrument);
    return nominalMm >= low - apart && nominalMm <= high + apart;
  };
  const [oldThread, ownThread] = [threadOf(old), threadOf(own)];
  if (oldThread && ownThread) return oldThread.name === ownThread.name;
  return near(old.majorDiameterMm, 'caliper', ownThread?.majorMm) && near(old.pitchMm, 'pitch', ownThread?.pitchMm) && near(old.tabWidthMm, 'caliper', own.tabWidthMm);
}
