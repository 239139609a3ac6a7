import { describe, expect, it } from 'vitest';
import type { BenchRecord, IdentifyAnswer, OhmReading } from '../../../catalog-schema/index.ts';
import { FORMS, type CircuitForm } from './forms.ts';
import { identify } from './index.ts';

// A meter's test current through a coil of a few Ohm leaves less across it than a diode needs to conduct: it shows the same both ways,
// diode or none (the forward voltage of silicon, about 0.6 V; any electronics handbook).

const withDiode = FORMS.filter(({ elements }) => elements.some(({ kind }) => kind === 'diode'));
const plainOf = (form: CircuitForm): CircuitForm => FORMS.find(({ name }) => name === form.name.replace('-diode', ''))!;

/** A record of the form with its nodes as terminals, its contacts read at rest, and the coil as given. */
function recordOf(form: CircuitForm, coil: readonly OhmReading[]): BenchRecord {
  const contacts = form.elements.flatMap((element): OhmReading[] => (element.kind === 'contact'
    ? [{ between: [...element.between], ohm: element.form === 'NC' ? 0.1 : 'open' }, { between: [...element.between], ohm: element.form === 'NC' ? 'open' : 0.1, pulledIn: true }] : []));
  return {
    system: { nominalV: 12 }, ohms: [...contacts, ...coil],
    terminals: Object.entries(form.nodes).map(([id, { kind }]) => ({ id, form: 'nc' in form.nodes ? 'pin' : kind === 'heavy' ? 'stud' : 'tab' })),
  };
}

const shareOf = ({ circuits }: IdentifyAnswer, ...names: readonly string[]): number => circuits.reduce((sum, { form, probability }) => sum + (names.includes(form) ? probability : 0), 0);
const odds = (answer: IdentifyAnswer, form: CircuitForm): number => shareOf(answer, form.name) / shareOf(answer, plainOf(form).name, `${plainOf(form).name}-resistor`);

describe('equal meter readings in both directions', () => {
  it('are tried on every form that has a diode', () => {
    expect(withDiode.map(({ name }) => name)).toEqual(['isolated-diode', 'changeover-diode']);
  });

  const cases = withDiode.flatMap((form) => [0.8, 4, 16, 85, 300].flatMap((ohm) => (['start-relay', 'contactor', 'plug-in-relay', undefined] as const)
    .filter((partClass) => partClass === undefined || form.shares[partClass] !== undefined).map((partClass) => ({ form, ohm, partClass, name: form.name }))));

  it.each(cases)('clear no diode of $name at $ohm Ohm ($partClass)', ({ form, ohm, partClass }) => {
    const [a, b] = form.elements.find((element) => element.kind === 'coil')!.between;
    const meter = (plusOn: string): OhmReading => ({ between: [a, b], ohm, by: 'meter', plusOn });
    const ask = (coil: readonly OhmReading[]): IdentifyAnswer => identify({ ...recordOf(form, coil), ...(partClass && { partClass }) });
    const once = odds(ask([meter(a)]), form);
    expect(once).toBeGreaterThan(0.05);
    // The way round says nothing; what little more readings change is how sure the ohms are, and with them the class.
    const both = ask([meter(a), meter(b), meter(a), meter(b)]);
    expect(both.circuits).toEqual(ask([meter(a), meter(a), meter(a), meter(a)]).circuits);
    expect(odds(both, form) / once).toBeGreaterThan(0.9);
    // It is still asked for, with a supply, as long as it is open.
    const asked = ask([meter(a), meter(b)]).measureNext.map(({ what }) => what);
    expect(asked.some((what) => what.startsWith('read the ohms between a and b with a supply'))).toBe(true);
  });

  it.each(withDiode.map((form) => ({ form, name: form.name })))('by a supply do clear it ($name), and unequal ones find it', ({ form }) => {
    const supply = (plusOn: string, ohm: number): OhmReading => ({ between: ['a', 'b'], ohm: { value: ohm, plusMinus: 0.03 * ohm + 0.03 }, by: 'supply', plusOn });
    expect(odds(identify(recordOf(form, [supply('a', 8), supply('b', 8)])), form)).toBeLessThan(0.02);
    const found = identify(recordOf(form, [supply('a', 8), supply('b', 0.15)]));
    expect(found.circuits[0]).toMatchObject({ form: form.name, roles: { a: 'coil+', b: 'coil-' } });
  });
});
