import { Command, CommanderError } from 'commander';
import { addAsLeftCommand, addSignOffCommand } from './as-left-command.ts';
import { addCatalogueCommand } from './catalogue-command.ts';
import { addFindCommand } from './find-command.ts';
import { addFitCommand } from './fit-command.ts';
import { addGaugeCommand } from './gauge-command.ts';
import { addIdentifyCommand } from './identify-command.ts';
import { addJobCommand } from './job-command.ts';
import { addOrderCommand } from './order-command.ts';
import { addPersonCommand } from './person-command.ts';
import { addProveCommand } from './prove-command.ts';
import { addRecordCommand } from './record-command.ts';
import { addReorderCommand } from './reorder-command.ts';
import { addRewireCommand } from './rewire-command.ts';
import { addSnapshotCommand } from './snapshot-command.ts';
import { addSourceCommand } from './source-command.ts';
import { addStockCommand } from './stock-command.ts';
import { EXIT, InputRefused } from './tell.ts';
import { addTraceCommand } from './trace-command.ts';

/** Runs one command; the answer is its exit code: 0 answered, 2 input refused (a line a fault on standard error), 1 the program failed. */
export async function runCommandLine(args: readonly string[]): Promise<number> {
  const program = new Command('lugwright')
    .description('Parts matching for the bench where machines that will not crank are mended.')
    .exitOverride()
    .showHelpAfterError(false);
  addIdentifyCommand(program);
  addFitCommand(program);
  addProveCommand(program);
  addRewireCommand(program);
  addTraceCommand(program);
  addCatalogueCommand(program);
  addFindCommand(program);
  addGaugeCommand(program);
  addSnapshotCommand(program);
  addAsLeftCommand(program);
  addSignOffCommand(program);
  addRecordCommand(program);
  addSourceCommand(program);
  addReorderCommand(program);
  addStockCommand(program);
  addJobCommand(program);
  addOrderCommand(program);
  addPersonCommand(program);
  for (const command of program.commands) command.exitOverride();
  try {
    await program.parseAsync([...args], { from: 'user' });
    return EXIT.answered;
  } catch (error) {
    if (error instanceof InputRefused) {
      process.stderr.write(`${error.message}\n`);
      return EXIT.refused;
    }
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.answered : EXIT.refused;
    // The reader of a pipe may leave early; that is not our failure.
    if ((error as NodeJS.ErrnoException).code === 'EPIPE') return EXIT.answered;
    process.stderr.write(`lugwright failed: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
    return EXIT.failed;
  }
}
