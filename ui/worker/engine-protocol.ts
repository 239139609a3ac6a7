/** A question to the worker and its answer, joined by `id`. */
export interface EngineQuestion { readonly id: number; readonly name: string; readonly args: readonly unknown[] }
export type EngineReply =
  | { readonly id: number; readonly ok: true; readonly value: unknown }
  | { readonly id: number; readonly ok: false; readonly message: string };
