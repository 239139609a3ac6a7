import type { BenchRecord, InputFault, JobDocument, Part } from '../../../catalog-schema/index.ts';
import { findSignOffBlocks, fingerprintWork, type AsLeftBasis, type AsLeftFacts } from '../../engine/index.ts';
import type { EngineQueue } from '../bench/engine-queue.ts';
import type { CatalogueService } from '../catalogue/catalogue-service.ts';

/** What is open before a job may be signed off, as faults; none: it may. `carried` is the chosen part where it came with the job. */
export type SignOffCheck = (document: JobDocument, record: BenchRecord, carried?: Part) => Promise<InputFault[]>;

/** What the engine has to say of a job's choice; `conflicts` are its fields with two values. Asks no store. */
export type GatherFacts = (document: JobDocument, record: BenchRecord, conflicts: number, carried?: Part) => Promise<AsLeftFacts>;

export function createGatherFacts(catalogue: CatalogueService, engine: EngineQueue): GatherFacts {
  return async (document, record, conflicts, carried) => {
    const { parts, byId } = catalogue.current();
    const { chosen } = document;
    const part = chosen && (byId.get(chosen.partId) ?? (carried?.id === chosen.partId ? carried : undefined));
    let basis: AsLeftBasis | undefined;
    if (chosen !== undefined && part !== undefined) {
      const answer = await engine.run({ kind: 'as-left', record, part, plan: chosen.plan }, parts);
      // While too much is being computed nothing is known of the choice, and nobody signs.
      if (answer.ok) basis = answer.value;
    }
    return { document, record, part, basis, conflicts, unit: 'mm' };
  };
}

/**
 * The check that every sign-off goes through, whichever door it came by: that nothing is open, that somebody's name stands under it, and
 * that it was given for the wires, choice and ticks as they are. A field with two values is the job log's own to refuse.
 */
export function createSignOffCheck(gather: GatherFacts): SignOffCheck {
  return async (document, record, carried) => {
    const { signedOff } = document;
    if (signedOff === undefined) return [];
    const faults: InputFault[] = findSignOffBlocks(await gather(document, record, 0, carried)).map(({ path, found, want }) => ({ path, found, want }));
    if (signedOff.by.trim() === '') faults.push({ path: 'signedOff.by', found: JSON.stringify(signedOff.by), want: 'a name' });
    const of = fingerprintWork(document);
    if (signedOff.of !== of) {
      faults.push({ path: 'signedOff.of', found: JSON.stringify(signedOff.of ?? null), want: `${JSON.stringify(of)}, the fingerprint of wires, choice and ticks as they are` });
    }
    return faults;
  };
}
