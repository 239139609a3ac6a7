import type { EngineQuestion, EngineReply } from './engine-protocol.ts';

/** Calls the function a question names, and gives its answer or what went wrong. `about` names the worker in words. */
export async function answerQuestion(functions: Readonly<Record<string, unknown>>, about: string, { id, name, args }: EngineQuestion): Promise<EngineReply> {
  try {
    const called = (Object.hasOwn(functions, name) ? functions[name] : undefined) as ((...given: unknown[]) => unknown) | undefined;
    if (called === undefined) throw new Error(`there is no function ${name} for ${about}`);
    return { id, ok: true, value: await called(...args) };
  } catch (error) {
    return { id, ok: false, message: error instanceof Error ? error.message : String(error) };
  }
}
