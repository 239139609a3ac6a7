import customFacts from './custom-markings.json' with { type: 'json' };
import { citeFact, type Fact } from './fact.ts';
import markingFacts from './terminal-markings.json' with { type: 'json' };

export interface TerminalMarking {
  /** as stamped: '50', '87a', 'B+', 'S' */
  readonly marking: string;
  readonly meaning: string;
  /** who uses it so: one marking can mean two things ('87' in DIN 72552 and on cube relays) */
  readonly usage: 'DIN 72552' | 'cube relay' | 'IEC 60947-1' | 'custom letters';
  readonly source: string;
  readonly note: string;
}

/** What a stamped marking may mean, DIN 72552 first. A marking stands in it as often as it has meanings. */
export const TERMINAL_MARKINGS: readonly TerminalMarking[] = [...buildStandard(), ...buildCustom()];

/** Every meaning of a marking; capitals do not matter, since stamps are often all capitals. */
export function meaningsOfMarking(marking: string): readonly TerminalMarking[] {
  const wanted = foldMarking(marking);
  return TERMINAL_MARKINGS.filter((each) => foldMarking(each.marking) === wanted);
}

function foldMarking(marking: string): string {
  return marking.trim().toUpperCase().replace(/[−–]/g, '-');
}

function buildStandard(): TerminalMarking[] {
  const facts: readonly Fact[] = markingFacts;
  return facts.filter((fact) => fact.quantity === 'meaning').flatMap((fact) => {
    const cube = fact.designation.endsWith(' on a cube relay');
    const names = fact.designation.replace(' on a cube relay', '').split('/').map((name) => name.trim());
    // Some rows name further markings in their words: '56a main beam', '84a output coil', '87c third', 'DF1/DF2'.
    const inWords = cube ? [] : [...String(fact.value).matchAll(/(?<![\w-])(\d\d[a-zLR]|DF\d)(?![\w])/g)].map((match) => match[1]!)
      .filter((name) => names.some((own) => name.startsWith(own) || own.startsWith(name.slice(0, 2))));
    return [...new Set([...names, ...inWords])].map((marking): TerminalMarking => ({
      marking, meaning: String(fact.value), usage: cube ? 'cube relay' : 'DIN 72552', source: citeFact(fact), note: fact.note,
    }));
  });
}

function buildCustom(): TerminalMarking[] {
  const facts: readonly Fact[] = customFacts;
  return facts.map((fact) => ({
    marking: fact.designation, meaning: String(fact.value), usage: fact.source.startsWith('IEC 60947-1') ? 'IEC 60947-1' : fact.source.startsWith('ISO 7588') ? 'cube relay' : 'custom letters',
    source: citeFact(fact), note: fact.note,
  }));
}
