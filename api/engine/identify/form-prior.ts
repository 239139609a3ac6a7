import type { BenchRecord } from '../../../catalog-schema/index.ts';
import { settingOf } from '../settings.ts';
import { FORMS, type CircuitForm, type CoilClass } from './forms.ts';

/** How common each class is among removed parts (common practice, no source). */
const CLASS_SHARES: Readonly<Record<CoilClass, number>> = { 'start-relay': 0.45, contactor: 0.12, 'plug-in-relay': 0.2, 'shift-solenoid': 0.23 };

const SHARES: ReadonlyMap<CircuitForm, Readonly<Partial<Record<CoilClass, number>>>> = new Map(FORMS.map((form) => [form, shareForm(form)]));

/** The form's share in each of its classes: as guessed, and where the guess is not believed, as much as any other form. */
function shareForm(form: CircuitForm): Partial<Record<CoilClass, number>> {
  const guesses = (Object.entries(form.shares) as [CoilClass, number][]).map(([coilClass, share]) => [coilClass, CLASS_SHARES[coilClass] * share] as const);
  const own = guesses.reduce((sum, [, guess]) => sum + guess, 0);
  const believed = settingOf('guessedShareBelief');
  return Object.fromEntries(guesses.map(([coilClass, guess]) => [coilClass, guess * (believed + (1 - believed) / (FORMS.length * own))]));
}

/** How common a form of a class is before anything is read, given the class that somebody entered. */
export function priorShare(form: CircuitForm, coilClass: CoilClass, entered: BenchRecord['partClass']): number {
  const share = SHARES.get(form)![coilClass] ?? 0;
  if (entered === undefined) return share;
  const other = settingOf('otherClassShare');
  const ofClass = [...SHARES.values()].reduce((sum, own) => sum + (own[coilClass] ?? 0), 0);
  return (entered === coilClass ? (1 - other) * share / ofClass : 0) + other * share;
}
