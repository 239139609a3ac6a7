import type { MachineSystem } from '../../catalog-schema/index.ts';

/** From this voltage up machines have controllers whose capacitors stay charged (common practice, no source). */
const CAPACITORS_FROM_V = 36;

/** The cautions of every answer that sends somebody to a machine: one wording, so that a screen that joins two answers says each once. */
export function cautionOfBattery(): string {
  return 'Battery negative off first, before the first nut, and on last: a battery gives off explosive gas, and a short across the heavy studs can melt a tool. Eye protection, no jewellery. Clean the posts: a dirty post is itself a no-start (common practice, no source).';
}

/** undefined where no interlock acts */
export function cautionOfInterlocks({ interlocks, interlockList = [] }: Pick<MachineSystem, 'interlocks' | 'interlockList'>): string | undefined {
  if (interlocks === 'none') return undefined;
  const names = interlockList.map(({ name }) => name);
  return `Do not release the machine until each interlock${names.length > 0 ? ` (${names.join(', ')})` : ''} has been shown to do what its maker says: stop cranking, or stop the engine.`;
}

/** undefined below 36 V */
export function cautionOfCapacitors(nominalV: number): string | undefined {
  return nominalV >= CAPACITORS_FROM_V ? 'On 36 and 48 V machines capacitors may stay charged: follow the maker.' : undefined;
}

export function cautionOfMaker(): string {
  return "A maker's own figure, diagram or procedure overrides this answer; local codes and licensed practice come first.";
}
