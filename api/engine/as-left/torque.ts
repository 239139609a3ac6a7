import { readThread, torqueFor, type Part } from '../../../catalog-schema/index.ts';
import type { Torque } from './step.ts';

/** The torque of a stud's or screw's nut; null for what takes no nut. */
export function findTorque(terminalId: string, part: Part): Torque | null {
  const terminal = part.terminals.find((entry) => entry.id === terminalId);
  if (terminal === undefined || (terminal.form !== 'stud' && terminal.form !== 'screw')) return null;
  const thread = terminal.thread === undefined ? undefined : readThread(terminal.thread);
  const advice = thread === undefined ? undefined : torqueFor(thread.majorMm);
  return thread === undefined || advice === undefined ? { kind: 'unknown' } : { kind: 'advice', thread: thread.name, advice };
}
