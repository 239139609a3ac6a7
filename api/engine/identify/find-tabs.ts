import type { BenchRecord, IdentifyAnswer, RecordTerminal } from '../../../catalog-schema/index.ts';
import { TABS, type TabRow } from '../../../catalog-schema/reference/index.ts';
import { settingOf } from '../settings.ts';
import { expectBits, foreseeShowings, type Showings } from './expected-bits.ts';
import { pushOpen } from './open-reading.ts';
import { normaliseLogs, roundShares, zoneDensity } from './posterior.ts';
import { defaultSigma, readMeasured, showNumber } from './read-measured.ts';
import type { Said } from './said.ts';

const KEYS = ['tabWidthMm', 'tabThicknessMm'] as const;
type TabKey = (typeof KEYS)[number];

/** What each measurement not taken would show on the standard tabs, in their order. */
const SHOWINGS: Readonly<Record<TabKey, Showings>> = { tabWidthMm: foreseeTab('tabWidthMm'), tabThicknessMm: foreseeTab('tabThicknessMm') };

function foreseeTab(key: TabKey): Showings {
  const sigma = defaultSigma('caliper');
  return foreseeShowings(TABS, {
    sigma, density: (tab, value) => densityOf(tab, key, value, sigma),
    truths: (tab) => {
      const [low, high] = limitsOf(tab, key);
      return [1, 3, 5].map((sixth) => ({ value: low + (high - low) * sixth / 6, share: 1 / 3 }));
    },
  });
}

/** How likely each standard tab (IEC 61210) is: width and thickness anywhere within the standard's limits, read with the caliper's error. */
export function findTabs(record: BenchRecord, said: Said): IdentifyAnswer['tabs'] {
  return (record.terminals ?? []).flatMap((terminal, index) => {
    const readings = KEYS.flatMap((key) => {
      const measured = terminal[key];
      return measured === undefined ? [] : [{ key, ...readMeasured(measured, 'caliper', said.assumptions) }];
    });
    if (readings.length === 0 && terminal.form !== 'tab') return [];
    const distances = TABS.map((tab) => readings.reduce((most, { key, value, sigma }) => Math.max(most, distanceOf(tab, key, value, sigma)), 0));
    if (distances.every((distance) => distance > settingOf('beyondSigma'))) {
      said.conflicts.push({
        paths: readings.map(({ key }) => `terminals[${index}].${key}`),
        why: `no standard tab is ${readings.map(({ key, value }) => `${showNumber(value)} mm ${key === 'tabWidthMm' ? 'wide' : 'thick'}`).join(' and ')}`,
      });
      return [{ terminal: terminal.id, candidates: [] }];
    }
    const shares = normaliseLogs(TABS.map((tab) => readings.reduce((log, { key, value, sigma }) => log + Math.log(densityOf(tab, key, value, sigma)), 0)));
    const weighed = TABS.map((of, i) => ({ of, share: shares[i]! })).toSorted((a, b) => b.share - a.share || (a.of.name < b.of.name ? -1 : 1));
    noteOpen(terminal, weighed, shares, said);
    if (readings.length === 0) return [];
    const rounded = roundShares(weighed.map(({ share }) => share));
    return [{
      terminal: terminal.id,
      candidates: weighed.map(({ of }, i) => ({ widthMm: of.widthMm, thicknessMm: of.thicknessMm, probability: rounded[i]! })).filter(({ probability }) => probability > 0),
    }];
  });
}

function limitsOf(tab: TabRow, key: TabKey): [number, number] {
  return key === 'tabWidthMm' ? [tab.widthMinMm, tab.widthMaxMm] : [tab.thicknessMinMm, tab.thicknessMaxMm];
}

function distanceOf(tab: TabRow, key: TabKey, value: number, sigma: number): number {
  const [low, high] = limitsOf(tab, key);
  return Math.max(0, low - value, value - high) / sigma;
}

function densityOf(tab: TabRow, key: TabKey, value: number, sigma: number): number {
  return zoneDensity(value, ...limitsOf(tab, key), sigma);
}

function noteOpen(terminal: RecordTerminal, weighed: readonly { of: TabRow; share: number }[], shares: readonly number[], said: Said): void {
  const likely = weighed.filter(({ share }) => share >= 0.02).map(({ of }) => of.name);
  if (likely.length < 2) return;
  for (const key of KEYS) {
    if (terminal[key] !== undefined) continue;
    pushOpen(said, `measure the ${key === 'tabWidthMm' ? 'width' : 'thickness'} of tab ${terminal.id}`, KEYS.some((each) => terminal[each] !== undefined) ? `it tells ${sayApart(likely)} mm` : 'it tells the standard tabs from 2.8 to 9.5 mm apart', expectBits(shares, SHOWINGS[key]), 'botherOfCaliper');
  }
}

/** 'A from B', 'A from B and C' */
function sayApart([first = '', ...others]: readonly string[]): string {
  return `${first} from ${others.join(' and ')}`;
}
