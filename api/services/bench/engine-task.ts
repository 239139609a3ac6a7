import type {
  BenchRecord, Catalogue, FaultShares, FindAnswer, FitAnswer, FitFilter, FitHistory, IdentifyAnswer, Need, Part, Plan, Prices, ProveAnswer, ProveCase, Replacements, RewireAnswer, SourceAnswer, TraceAnswer,
} from '../../../catalog-schema/index.ts';
import type { AsLeftBasis } from '../../engine/index.ts';

/** What can be asked of the engine's thread, and what it answers. */
export interface EngineAnswers {
  identify: IdentifyAnswer;
  fit: FitAnswer;
  rewire: RewireAnswer;
  'as-left': AsLeftBasis;
  find: FindAnswer;
  trace: TraceAnswer;
  prove: ProveAnswer;
  source: SourceAnswer;
  snapshot: CatalogueFile;
}
/** The whole catalogue as one binary file; `hash` names its content. */
export interface CatalogueFile {
  readonly bytes: ArrayBuffer;
  readonly hash: string;
}
/** What may be said beside the record in a question to `fit`. */
export interface FitWishes {
  readonly prices?: Prices;
  readonly all?: boolean;
  readonly most?: number;
  readonly only?: FitFilter;
  readonly history?: FitHistory;
  readonly machineKind?: string;
}
export type EngineTask =
  | { readonly kind: 'identify'; readonly record: BenchRecord }
  | { readonly kind: 'fit'; readonly record: BenchRecord; readonly wishes: FitWishes }
  | { readonly kind: 'rewire'; readonly record: BenchRecord; readonly part: Part }
  /** what a checklist stands on; `plan` is the chosen one */
  | { readonly kind: 'as-left'; readonly record: BenchRecord; readonly part: Part; readonly plan: Plan | null }
  | { readonly kind: 'find'; readonly text: string; readonly shop: Replacements }
  | { readonly kind: 'trace'; readonly record: BenchRecord; readonly tags?: readonly string[] }
  | { readonly kind: 'prove'; readonly crankCase: ProveCase; readonly shares?: FaultShares }
  /** how long the whole answer may take, s */
  | { readonly kind: 'source'; readonly need: Need; readonly seconds: number }
  | { readonly kind: 'snapshot' };
export type AnswerTo<T extends EngineTask> = EngineAnswers[T['kind']];

export type ToThread =
  | { readonly kind: 'catalogue'; readonly parts: Catalogue }
  /** the catalogue written elsewhere: fits are answered from it; absent: from the parts again */
  | { readonly kind: 'file'; readonly bytes: ArrayBuffer | undefined }
  | { readonly kind: 'task'; readonly id: number; readonly task: EngineTask };
export type FromThread =
  | { readonly id: number; readonly answer: EngineAnswers[keyof EngineAnswers] }
  | { readonly id: number; readonly error: string };
