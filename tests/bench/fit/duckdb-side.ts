import { DuckDBDataChunk, DuckDBInstance, type DuckDBPreparedStatement, DOUBLE, INTEGER } from '@duckdb/node-api';
import { rowForDatabase, SCORE_COLUMNS, WHOLE_COLUMNS, writeStatement } from './score-question.ts';
import type { ScoreRows } from './score-rows.ts';
import type { DatabaseSide } from './sqlite-side.ts';

const CHUNK_ROWS = 2048;

/** DuckDB in memory on one thread, its table stored in order of profile and price, so that its row groups' least and greatest values prune. */
export async function openDuckdb(rows: ScoreRows): Promise<DatabaseSide & { roundTripMs(): Promise<number> }> {
  const instance = await DuckDBInstance.create(':memory:', { threads: '1' });
  const connection = await instance.connect();
  const types = SCORE_COLUMNS.map((column) => (WHOLE_COLUMNS.has(column) ? INTEGER : DOUBLE));
  await connection.run(`CREATE TABLE loaded (${SCORE_COLUMNS.map((column, i) => `${column} ${types[i]!}`).join(', ')})`);
  const appender = await connection.createAppender('loaded');
  for (let from = 0; from < rows.count; from += CHUNK_ROWS) {
    const chunk = DuckDBDataChunk.create(types);
    chunk.setRows(Array.from({ length: Math.min(CHUNK_ROWS, rows.count - from) }, (_, i) => rowForDatabase(rows, from + i)));
    appender.appendDataChunk(chunk);
  }
  appender.closeSync();
  await connection.run('CREATE TABLE parts AS SELECT * FROM loaded ORDER BY profile, landed, rank; DROP TABLE loaded');

  const statements = new Map<string, DuckDBPreparedStatement>();
  const ask = async (statement: DuckDBPreparedStatement): Promise<number[]> => {
    const result = await statement.run();
    return (await result.getRows()).map(([rank]) => Number(rank));
  };
  const empty = await connection.prepare('SELECT 1 AS rank');
  return {
    name: 'DuckDB threads=1',
    prepare: async (question, most) => {
      const { sql, parameters } = writeStatement('parts', question, most);
      let statement = statements.get(sql);
      if (!statement) statements.set(sql, statement = await connection.prepare(sql));
      const ready = statement;
      return () => {
        // The parameters of a statement are its own: bound anew, since two questions may share one text.
        parameters.forEach(({ value, whole }, index) => { if (whole) ready.bindInteger(index + 1, value); else ready.bindDouble(index + 1, value); });
        return ask(ready);
      };
    },
    roundTripMs: async () => {
      const start = performance.now();
      for (let i = 0; i < 200; i++) await ask(empty);
      return (performance.now() - start) / 200;
    },
    close: () => {
      for (const statement of [...statements.values(), empty]) statement.destroySync();
      connection.closeSync();
      instance.closeSync();
      return Promise.resolve();
    },
  };
}
