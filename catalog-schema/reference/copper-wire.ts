import copperFacts from './copper.json' with { type: 'json' };
import { citeFact, findFact, groupFacts, numberOf, type Fact } from './fact.ts';
import wireFacts from './wire.json' with { type: 'json' };

/** Copper's temperature coefficient of resistance at 20 C, 1/K (IEC 60028). */
export const COPPER_ALPHA_20C: number = numberOf(findFact(copperFacts, 'alpha_20C_constant_mass'));

/** Conductivity of annealed copper at 20 C, m/(Ohm mm2): 58 exactly (IEC 60028). */
export const COPPER_CONDUCTIVITY_20C: number = numberOf(findFact(copperFacts, 'conductivity_20C'));

export interface WireSize {
  /** 'AWG 4', 'AWG 4/0', '16 mm2' */
  readonly name: string;
  /** AWG: of one solid wire of the gauge's diameter; IEC: the nominal area */
  readonly areaMm2: number;
  readonly ohmPerM: number;
  readonly source: string;
}

/** AWG 22 to 4/0, thinnest first: area from the gauge's diameter (ASTM B258), resistance of annealed copper of that area. */
export const AWG_SIZES: readonly WireSize[] = buildAwg();
/** IEC 60228 class 5 (flexible), plain copper, 0.5 to 95 mm2: greatest resistance at 20 C. */
export const IEC_60228_SIZES: readonly WireSize[] = buildIec();

function buildAwg(): WireSize[] {
  return [...groupFacts(wireFacts)].filter(([name]) => name.startsWith('AWG')).map(([name, own]) => ({
    name, areaMm2: numberOf(findFact(own, 'area')), ohmPerM: numberOf(findFact(own, 'resistance_20C')) / 1000, source: citeFact(findFact(own, 'area')),
  }));
}

function buildIec(): WireSize[] {
  const facts: readonly Fact[] = wireFacts;
  return facts.flatMap((fact) => {
    const match = /^([\d.]+) mm2 class 5 plain$/.exec(fact.designation);
    return match ? [{ name: `${match[1]} mm2`, areaMm2: Number(match[1]), ohmPerM: numberOf(fact) / 1000, source: `${fact.source} class 5` }] : [];
  });
}

/**
 * Resistance of a metre of copper wire at 20 C, Ohm/m, and whose figure it is: a nominal size of IEC 60228 takes the standard's greatest
 * value for flexible conductors, an AWG size that of its gauge, any other area that of solid annealed copper (1 / (58 A)).
 * @param areaMm2 above 0
 */
export function wireResistance(areaMm2: number): { ohmPerM: number; source: string } {
  if (!(areaMm2 > 0)) throw new Error(`wireResistance: area ${areaMm2} mm2 is not above 0`);
  const isNear = (size: WireSize): boolean => Math.abs(size.areaMm2 - areaMm2) <= 0.002 * areaMm2;
  const size = IEC_60228_SIZES.find(isNear) ?? AWG_SIZES.find(isNear);
  return size ? { ohmPerM: size.ohmPerM, source: `${size.source}, ${size.name}` }
    : { ohmPerM: 1 / (COPPER_CONDUCTIVITY_20C * areaMm2), source: 'IEC 60028, solid annealed copper of this area' };
}

/** Ohm per metre at 20 C: the figure of `wireResistance`. */
export function wireOhmPerM(areaMm2: number): number {
  return wireResistance(areaMm2).ohmPerM;
}

/** Area in mm2 of an AWG gauge written '4', '1/0' or '0000'; undefined outside 22 to 4/0. */
export function awgAreaMm2(gauge: string): number | undefined {
  const name = /^0{1,4}$/.test(gauge) ? `AWG ${gauge.length}/0` : `AWG ${gauge}`;
  return AWG_SIZES.find((size) => size.name === name)?.areaMm2;
}
