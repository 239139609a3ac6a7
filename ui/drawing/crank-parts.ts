import type { CrankFault, ProveAnswer } from '../../catalog-schema/index.ts';

/** What is drawn of a cranking circuit, each thing that can fail. */
export const CRANK_PARTS = ['battery', 'posts', 'battery-cable', 'contacts', 'start-cable', 'coil', 'feed', 'return', 'starter', 'engine', 'ground'] as const;
export type CrankPart = (typeof CRANK_PARTS)[number];

/** The faults that lie in each. */
export const FAULTS_OF_PART: Readonly<Record<CrankPart, readonly CrankFault[]>> = {
  battery: ['battery-weak'], posts: ['battery-connection'], 'battery-cable': ['battery-cable'], contacts: ['relay-contacts', 'relay-stuck-closed'],
  'start-cable': ['start-cable'], coil: ['relay-coil-open'], feed: ['coil-feed'], return: ['coil-return'],
  starter: ['starter-open', 'starter-dragging', 'starter-drive'], engine: ['engine-locked'], ground: ['ground-connection'],
};

/** How much the evidence holds against a part: drawn by weight of line and by hatching, and said in words. */
export type Suspicion = 'cleared' | 'hardly' | 'possible' | 'likely' | 'proven';
export type PartState = Readonly<{ part: CrankPart; share: number; suspicion: Suspicion }>;

/** From so much a part is drawn as possible, and as likely. */
const POSSIBLE_FROM = 0.1;
const LIKELY_FROM = 0.35;

/** Each part's share of the fault. A part is cleared when each of its faults is. */
export function judgeParts({ faults, cleared, proven }: Pick<ProveAnswer, 'faults' | 'cleared' | 'proven'>): PartState[] {
  return CRANK_PARTS.map((part): PartState => {
    const own = FAULTS_OF_PART[part];
    const share = faults.filter(({ fault }) => own.includes(fault)).reduce((sum, { probability }) => sum + probability, 0);
    const suspicion = proven !== null && own.includes(proven) ? 'proven' : own.every((fault) => cleared.includes(fault)) ? 'cleared'
      : share >= LIKELY_FROM ? 'likely' : share >= POSSIBLE_FROM ? 'possible' : 'hardly';
    return { part, share, suspicion };
  });
}

/** As short as the drawing has room for. */
export function sayPart({ share, suspicion }: PartState): string {
  if (suspicion === 'cleared' || suspicion === 'proven') return suspicion;
  const percent = Math.round(share * 100);
  return percent === 0 ? '<1 %' : share > 0.995 ? '>99 %' : `${percent} %`;
}
