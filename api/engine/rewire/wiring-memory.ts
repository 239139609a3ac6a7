import type { Part } from '../../../catalog-schema/index.ts';
import { formKeyOf, structureKeyOf } from './form-key.ts';
import { listCaseWays } from './jumper-sets.ts';
import type { MachineSide } from './machine-side.ts';
import { PlanJudge } from './plan-judge.ts';
import { PossiblePlans } from './possible-plans.ts';
import { readForm, readStructure, type PartForm, type Structure } from './topology.ts';

/** Beyond so many it forgets all and begins anew: a shop's machines and catalogue come to a few hundred. */
const MOST_LISTINGS = 3_000;
const MOST_FORMS = 50_000;

/** What holds for forms of circuits whoever asks: how each lies in its topology, and which plans its topology may have on a kind of machine. */
export class WiringMemory {
  readonly #byKey = new Map<string, PartForm>();
  readonly #byCode = new Map<number, PartForm>();
  readonly #structures = new Map<string, Structure>();
  readonly #judges = new Map<string, PlanJudge>();

  /** @param code stands for the part's form key with all who share this memory */
  formOf(part: Part, code: number | undefined): PartForm {
    let form = code === undefined ? undefined : this.#byCode.get(code);
    if (form !== undefined) return form;
    const key = formKeyOf(part);
    form = this.#byKey.get(key);
    if (form === undefined) {
      if (this.#byKey.size >= MOST_FORMS) {
        this.#byKey.clear();
        this.#byCode.clear();
        this.#structures.clear();
      }
      const structureKey = structureKeyOf(part);
      let structure = this.#structures.get(structureKey);
      if (structure === undefined) this.#structures.set(structureKey, structure = readStructure(part));
      this.#byKey.set(key, form = readForm(structure, part));
    }
    if (code !== undefined) this.#byCode.set(code, form);
    return form;
  }

  judgeFor(machine: MachineSide, form: PartForm): PlanJudge {
    const ways = listCaseWays(machine, form);
    const key = `${machine.wires.map(({ role }) => role).join()} ${machine.interlocks} ${ways.join()} ${form.topology.key}`;
    let judge = this.#judges.get(key);
    if (judge === undefined) {
      if (this.#judges.size >= MOST_LISTINGS) this.#judges.clear();
      this.#judges.set(key, judge = new PlanJudge(new PossiblePlans(machine, form.topology, ways)));
    }
    return judge;
  }
}
