import type { FitAnswer, JobState, Need, PlanWant, Prices, Reservation } from '../../../catalog-schema/index.ts';
import type { OpenServe } from '../orders/index.ts';

type AnyOf = Need['needs'][number]['anyOf'];

/** A job that still wants its part, and what of the catalogue would do. */
export interface Wanting { readonly want: PlanWant; readonly need: Need['needs'][number] }

export interface WantsBasis {
  readonly today: string;
  readonly prices: Pick<Prices, 'waitCostPerDay'>;
  readonly reservations: readonly Reservation[];
  readonly serves: readonly OpenServe[];
  /** the fits of a job that lets any that goes on do, with their prices; undefined where they could not be worked out */
  readonly fitsOf: (job: JobState) => Promise<FitAnswer | undefined>;
}

/**
 * The jobs that want a part: one is chosen, not signed off, and fewer units are put aside or ordered for the job than it asks for. What is put
 * aside of another part than the chosen one counts where any fit will do.
 */
export async function gatherWants(jobs: readonly JobState[], { today, prices, reservations, serves, fitsOf }: WantsBasis): Promise<Wanting[]> {
  const wanting: Wanting[] = [];
  for (const job of jobs) {
    const { chosen, get = {}, signedOff, title, machine } = job.document;
    if (chosen === undefined || signedOff !== undefined) continue;
    const anyOf = get.anyFit === true ? listAnyOf(chosen.partId, await fitsOf(job)) : [{ partId: chosen.partId }];
    const does = new Set(anyOf.map(({ partId }) => partId));
    const covered = [...reservations, ...serves].filter((each) => each.jobId === job.id && does.has(each.partId)).reduce((sum, { qty }) => sum + qty, 0);
    const qty = (get.qty ?? 1) - covered;
    if (qty <= 0) continue;
    const by = get.by ?? today;
    wanting.push({
      want: { id: job.id, jobId: job.id, title, ...(machine === undefined ? {} : { machine }), partId: chosen.partId, others: does.size - 1, qty, by },
      need: { id: job.id, qty, by, ...(prices.waitCostPerDay === undefined ? {} : { waitCostPerDay: prices.waitCostPerDay }), anyOf },
    });
  }
  return wanting;
}

/** The chosen part and every other that goes on, each with its kit, work and risk; the chosen one alone where nothing is known of the others. */
function listAnyOf(chosen: string, answer: FitAnswer | undefined): AnyOf {
  const others = (answer?.fits ?? []).filter(({ verdict }) => verdict === 'direct' || verdict === 'adapt');
  const extraOf = (partId: string): number | undefined => {
    const cost = answer?.fits.find((fit) => fit.partId === partId)?.expectedCost;
    return cost ? cost.kit + cost.labour + cost.misfit : undefined;
  };
  // Money keeps four decimals at most.
  const option = (partId: string): AnyOf[number] => {
    const extra = extraOf(partId);
    return { partId, ...(extra === undefined ? {} : { extraCost: Math.round(extra * 10_000) / 10_000 }) };
  };
  return [option(chosen), ...others.filter(({ partId, expectedCost }) => partId !== chosen && expectedCost !== null).map(({ partId }) => option(partId))];
}
