import type { BenchRecord } from '../../../catalog-schema/index.ts';
import { describeSetting, settingOf } from '../settings.ts';
import { lnOhmsOf, STANDARD_VOLTS, voltsGivenOhms, type Winding } from './coil-prior.ts';
import type { CoilClass } from './forms.ts';
import { showNumber } from './read-measured.ts';
import type { Said } from './said.ts';

/** A coil whose ohms are known, and the readings that say so. */
export interface CoilRead { readonly between: readonly [string, string]; readonly ohmAt20C: number; readonly watts: Winding; readonly readings: readonly number[] }

/** nobody reads more, and it is still a number */
const MOST_SAID = 1e300;

/** The nominal voltages that a mark gives, and where it stands. */
interface Mark { readonly path: 'marked.coilV' | 'marked.text'; readonly volts: number }

/** Names marks that deny each other. */
export function compareMarks(record: BenchRecord, said: Said): void {
  const [one, two] = readMarks(record);
  if (!one || !two || one.volts === two.volts) return;
  said.conflicts.push({ paths: [one.path, two.path], why: `one says ${showNumber(one.volts)} V, the other ${showNumber(two.volts)} V` });
}

/** Names a mark that cannot be true of the coils that were read, and cautions where it hardly can. */
export function checkMarkedVolts(record: BenchRecord, coils: readonly CoilRead[], classes: ReadonlyMap<CoilClass, number>, said: Said): void {
  readMarks(record).forEach((mark, which, marks) => {
    if (which > 0 && mark.volts === marks[0]!.volts) return;
    const beyond = coils.filter((coil) => [...classes.keys()].every((coilClass) => isBeyond(coil, coilClass, mark.volts)));
    if (beyond.length > 0) {
      for (const { between, ohmAt20C, readings } of beyond) {
        said.conflicts.push({
          paths: [mark.path, ...readings.toSorted((a, b) => a - b).map((index) => `ohms[${index}]`)],
          why: `${showNumber(ohmAt20C)} Ohm between ${between[0]} and ${between[1]} would draw ${sayWatts(mark.volts, ohmAt20C)} at the marked ${showNumber(mark.volts)} V, as no common coil does: the mark or a reading is wrong`,
        });
      }
      return;
    }
    const [believed, best] = compareVolts(mark.volts, coils, classes);
    if (believed >= settingOf('leastMarkShare')) return;
    const { between, ohmAt20C } = coils[0]!;
    said.assumptions.add(describeSetting('leastMarkShare'));
    said.cautions.add(`Marked ${showNumber(mark.volts)} V, but the ${showNumber(ohmAt20C)} Ohm between ${between[0]} and ${between[1]} draw ${sayWatts(mark.volts, ohmAt20C)} there`
      + ` and suit ${showNumber(best)} V (${sayWatts(best, ohmAt20C)}) better: settle which is true before it is fed.`);
  });
}

/** Nominal voltages that the mark gives; a text with none, a range or several says nothing. */
function readMarks({ marked }: BenchRecord): Mark[] {
  const marks: Mark[] = marked?.coilV === undefined ? [] : [{ path: 'marked.coilV', volts: marked.coilV }];
  const told = new Set([...(marked?.text ?? '').matchAll(/(?<![\w.,])(?<range>\d+\s*[-/]\s*)?(?<volts>\d+(?:[.,]\d+)?)\s*V(?:DC|=)?(?![\w])/giu)]
    .map(({ groups }) => (groups!['range'] === undefined ? Number(groups!['volts']!.replace(',', '.')) : Number.NaN)));
  const [volts] = told;
  return told.size === 1 && volts! > 0 ? [...marks, { path: 'marked.text', volts: volts! }] : marks;
}

function isBeyond({ ohmAt20C, watts }: CoilRead, coilClass: CoilClass, volts: number): boolean {
  const { mean, spread } = lnOhmsOf(coilClass, watts, volts);
  return Math.abs(Math.log(ohmAt20C) - mean) > settingOf('beyondSigma') * spread;
}

/** The share of the marked voltage among it and the standard ones, none of them favoured, and the likeliest of all. */
function compareVolts(marked: number, coils: readonly CoilRead[], classes: ReadonlyMap<CoilClass, number>): [number, number] {
  const candidates = [...new Set([marked, ...STANDARD_VOLTS])];
  const even = candidates.map((volts) => ({ volts, share: 1 / candidates.length }));
  const shares = candidates.map(() => 0);
  const total = [...classes.values()].reduce((sum, share) => sum + share, 0);
  for (const [coilClass, share] of classes) voltsGivenOhms(even, coilClass, coils).forEach((each, i) => { shares[i]! += share / total * each.share; });
  return [shares[0]!, candidates[shares.indexOf(Math.max(...shares))]!];
}

function sayWatts(volts: number, ohm: number): string {
  return `${Number(Math.min(volts * volts / ohm, MOST_SAID).toPrecision(2))} W`;
}
