import { describe, expect, it } from 'vitest';
import { UNSAID } from '../../../api/engine/retrieve/index.ts';
import { Draws } from '../../sim-identify/random.ts';
import { openDuckdb } from './duckdb-side.ts';
import { generateParts } from './generate-catalogue.ts';
import { NOTHING_PASSES, scanRows, type Question } from './score-question.ts';
import { ScoreRowWriter, type ScoreRows } from './score-rows.ts';
import { openSqlite } from './sqlite-side.ts';

const facts = { count: 1200, seed: 4 };

function writeRows(): ScoreRows {
  const writer = new ScoreRowWriter(facts.count);
  for (const part of generateParts(facts)) writer.add(part);
  // Few different prices, so that ids have to break ties; one part in nine without one.
  let number = 0;
  return writer.finish(() => (number++ % 9 === 0 ? undefined : 1000 + 500 * (number % 5)));
}

/** Questions of every shape: limits on each side, nothing that passes, things left unsaid that are out or in doubt, lugs. */
function drawQuestion(draws: Draws, rows: ScoreRows): Question {
  const codes = draws.shuffle([...rows.profileCodes.values()]);
  const some = (): number => Math.floor(draws.between(1, 40));
  const bits = (): number => Math.floor(draws.unit() * 2 ** UNSAID.length) & Math.floor(draws.unit() * 2 ** UNSAID.length);
  const open = { low: Number.NEGATIVE_INFINITY, high: Number.POSITIVE_INFINITY, sureLow: Number.NEGATIVE_INFINITY, sureHigh: Number.POSITIVE_INFINITY };
  return {
    groups: [{ codes: codes.slice(0, 40), factor: 1, outMask: bits() & bits(), doubtMask: bits() }, { codes: codes.slice(40, 40 + some()), factor: 0.6, outMask: 0, doubtMask: bits() }],
    limits: [
      { ...open, column: 'inrushA' as const, low: draws.chance(0.1) ? NOTHING_PASSES : 400, sureLow: 600 }, { ...open, column: 'bodyHighMm' as const, high: 70, sureHigh: 70 },
      { ...open, column: 'pinionModuleMm' as const, low: 2, high: 2.6, sureLow: 2.1, sureHigh: 2.5 }, { ...open, column: 'dutyS' as const, low: draws.chance(0.3) ? Number.POSITIVE_INFINITY : 15, sureLow: 15 },
    ].filter(() => draws.chance(0.6)),
    sealing: { out: [1], open: [2, 3] }, unsaidFactors: UNSAID.map(() => draws.between(0.3, 0.95)), doubtFactor: 0.5,
    rings: [{ least: 6.9, most: 8.3 }, { least: 9, most: 10.4 }].filter(() => draws.chance(0.7)), lugCents: 780, misfitCents: 8500,
  };
}

describe('the question to databases', () => {
  it('has one answer, by plain scan, by SQLite from either table and by DuckDB', { timeout: 60_000 }, async () => {
    const rows = writeRows();
    const lite = await openSqlite(rows);
    const duck = await openDuckdb(rows);
    const draws = new Draws(11);
    let answered = 0;
    for (let asked = 0; asked < 60; asked++) {
      const question = drawQuestion(draws, rows);
      const plain = scanRows(rows, question, 20);
      answered += plain.length > 0 ? 1 : 0;
      for (const side of [lite.scan, lite.clustered, duck]) expect(await (await side.prepare(question, 20))(), side.name).toEqual(plain);
    }
    await lite.scan.close();
    await duck.close();
    expect(answered).toBeGreaterThan(40);
  });

  it('puts proven before doubtful, priced before unpriced, cheap before dear and the lower id first', () => {
    const rows = writeRows();
    const question: Question = {
      groups: [{ codes: [...rows.profileCodes.values()], factor: 1, outMask: 0, doubtMask: 1 << UNSAID.indexOf('body') }], limits: [], sealing: { out: [], open: [] },
      unsaidFactors: UNSAID.map(() => 0.5), doubtFactor: 0.5, rings: [], lugCents: 0, misfitCents: 100,
    };
    const rowOf = new Map(Array.from(rows.rank, (rank, row) => [rank, row]));
    const keys = scanRows(rows, question, rows.count).map((rank) => {
      const row = rowOf.get(rank)!;
      const landed = rows.landed[row]!;
      return [Number.isNaN(rows.columns.bodyHighMm[row]!) ? 1 : 0, Number.isNaN(landed) ? 1 : 0, Number.isNaN(landed) ? 0 : landed, rank] as const;
    });
    expect(keys).toHaveLength(facts.count);
    expect(keys).toEqual(keys.toSorted((a, b) => a[0] - b[0] || a[1] - b[1] || a[2] - b[2] || a[3] - b[3]));
  });
});
