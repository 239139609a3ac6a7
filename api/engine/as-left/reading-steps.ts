import type { CoilElement, Part } from '../../../catalog-schema/index.ts';
import { SETTINGS } from '../settings.ts';
import { feedsStarter } from './feeds-starter.ts';
import type { StepFacts } from './step-facts.ts';
import type { MadeStep } from './step.ts';
import { findPlace } from './wire-steps.ts';
import {
  coilOhmYardstick, coilVoltYardstick, contactDropYardstick, groundDropYardstick, positiveDropYardstick, standingCurrentYardstick,
} from './yardsticks.ts';

/** Readings of the new part on the bench, before a wire makes a second path: the heavy contact is open, the coil has its ohms. */
export function makeColdReadings(facts: StepFacts): MadeStep[] {
  const heavy = findHeavyEnds(facts);
  // A resistor inside lies across the coil and would be read with it.
  const coil = facts.part.circuit.some((element) => element.kind === 'resistor') ? undefined : findPlainCoil(facts.part);
  return [
    ...(heavy === undefined ? [] : [{ id: 'studs-open', kind: 'studs-open' as const, required: true, between: heavy }]),
    ...(coil?.ohmAt20C === undefined ? [] : [{
      id: 'read-coil-ohms', kind: 'reading' as const, required: false, reading: 'coil-ohms' as const, between: coil.between,
      yardstick: coilOhmYardstick(coil.ohmAt20C),
    }]),
  ];
}

/** The last reading before the clamp goes on: whatever is wired to draw with the switch off shows here, and not as a spark. */
export function makeStandingReading(): MadeStep[] {
  return [{
    id: 'read-standing-current', kind: 'reading', required: true, reading: 'standing-current', between: ['battery -', 'minus clamp'],
    yardstick: standingCurrentYardstick(),
  }];
}

/** Readings while it cranks. The drops are for cranking current and are left out where nothing cranks. */
export function makeLiveReadings(facts: StepFacts): MadeStep[] {
  const { part, record } = facts;
  const heavy = findHeavyEnds(facts);
  const coil = findHeldCoil(part, record.system.nominalV);
  const cranks = feedsStarter(record, part);
  return [
    ...(coil === undefined ? [] : [{
      id: 'read-coil-volts', kind: 'reading' as const, required: true, reading: 'coil-volts' as const, between: coil.between,
      yardstick: coilVoltYardstick(coil.pullInV, coil.said),
    }]),
    ...(heavy === undefined || !cranks ? [] : [{
      id: 'read-contact-drop', kind: 'reading' as const, required: true, reading: 'contact-drop' as const, between: heavy, yardstick: contactDropYardstick(),
    }]),
    ...(heavy === undefined || !cranks || part.partClass === 'shift-solenoid' ? [] : [{
      id: 'read-positive-drop', kind: 'reading' as const, required: false, reading: 'positive-drop' as const,
      between: ['battery +', 'starter'] as const, yardstick: positiveDropYardstick(),
    }]),
    ...(!cranks ? [] : [{
      id: 'read-ground-drop', kind: 'reading' as const, required: false, reading: 'ground-drop' as const,
      between: ['battery -', 'starter case'] as const, yardstick: groundDropYardstick(),
    }]),
  ];
}

/** The new terminals that the battery and the starter went on, when the plan says both. */
function findHeavyEnds(facts: StepFacts): readonly [string, string] | undefined {
  const battery = findPlace(facts, 'battery');
  const starter = findPlace(facts, 'starter');
  return battery === undefined || starter === undefined || battery === starter ? undefined : [battery, starter];
}

/** The coil a meter can be put across: the only one, with both its ends outside. */
function findPlainCoil(part: Part): CoilElement | undefined {
  const coils = listCoils(part);
  return coils.length === 1 && isOutside(coils[0]!, part) ? coils[0] : undefined;
}

/**
 * Where the volts of a held coil are read, and what they must reach: across the only coil; of two windings from one terminal, across
 * the one that ends at the case and holds, the higher pull-in of the two.
 */
function findHeldCoil(part: Part, systemV: number): { readonly between: readonly [string, string]; readonly pullInV: number; readonly said: boolean } | undefined {
  const coils = listCoils(part);
  const coil = findPlainCoil(part) ?? coils.find((each) => coils.length > 1 && each.between.includes('case') && isOutside(each, part));
  if (coil === undefined) return undefined;
  // What a coil of another voltage needs is taken in proportion, as everywhere.
  const needed = coils.map(({ pullInV, nominalV }) => (pullInV === undefined ? SETTINGS.pullInOfNominal.value * systemV : pullInV * (systemV / nominalV)));
  return { between: coil.between, said: coils.every(({ pullInV }) => pullInV !== undefined), pullInV: Math.max(...needed) };
}

function listCoils(part: Part): CoilElement[] {
  return part.circuit.filter((element): element is CoilElement => element.kind === 'coil');
}

function isOutside(coil: CoilElement, part: Part): boolean {
  return coil.between.every((node) => node === 'case' || part.terminals.some(({ id }) => id === node));
}
