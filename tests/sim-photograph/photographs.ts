import { judgePhotographs, printTally, share, type Figures } from './judge-photographs.ts';
import { judgeSnapping } from './judge-snapping.ts';
import type { Setting } from './pinhole.ts';

// Hole spacings from simulated photographs of an ID-1 card: how near, and whether the stated half-width (2 sigma) holds.
// node tests/sim-photograph/photographs.ts [count] [seed]

const count = Number(process.argv[2] ?? 500);
const seed = Number(process.argv[3] ?? 20261125);

const JUDGED: Setting = { wide: 180, raisedMm: 0, edgeNoisePx: 0.5, edgeMarks: 6, tapNoisePx: 1 };
const OTHERS: readonly [string, Setting][] = [
  ['edges marked by hand, 1 px, 4 marks', { ...JUDGED, edgeNoisePx: 1, edgeMarks: 4 }],
  ['edges snapped, 0.2 px, 20 marks', { ...JUDGED, edgeNoisePx: 0.2, edgeMarks: 20 }],
  ['holes 12 mm above the card', { ...JUDGED, raisedMm: 12 }],
];

const say = (line: string) => process.stdout.write(`${line}\n`);
const print = (name: string, figures: Figures) => {
  say(`${name}: ${figures.photographs} photographs, ${figures.refused} refused, ${figures.turned} with long and short edges confused, ${figures.unclear} where that was said to be unclear`);
  say(`  spacing: ${printTally(figures.spacing)}`);
  say(`  diameter by two taps: ${printTally(figures.across)}`);
  say(`  diameter by six taps: ${printTally(figures.round)}`);
};

say(`seed ${seed}`);
const judged = judgePhotographs(count, seed, JUDGED);
print('judged: edges 0.5 px, 6 marks, taps 1 px', judged);
for (const [name, setting] of OTHERS) print(name, judgePhotographs(count, seed + 1, setting));
// drawing a picture takes a second: fewer of them
const drawnCount = Math.ceil(count / 25);
const drawn = judgeSnapping(drawnCount, seed + 2);
say(`edges marked 2 px off and snapped in drawn pictures: ${drawnCount} photographs, ${drawn.refused} refused`);
say(`  spacing: ${printTally(drawn.spacing)}`);
const { spacing } = judged;
const near = spacing.within / spacing.count;
const covered = spacing.covered / spacing.count;
const held = near >= 0.95 && covered >= 0.93 && covered <= 0.97;
say(`within 0.5 mm ${share(spacing.within, spacing.count)} (at least 95 %), covered ${share(spacing.covered, spacing.count)} (93 to 97 %): ${held ? 'held' : 'not held'}`);
process.exitCode = held ? 0 : 1;
