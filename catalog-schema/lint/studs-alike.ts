import type { ContactElement, Part } from '../part.ts';
import { canonicalThreadName } from '../thread/index.ts';
import { eachElement } from './each-element.ts';
import type { LintRule } from './lint-rule.ts';

export const studsAlike: LintRule = {
  name: 'studs-alike',
  description: 'Both studs of a heavy contact have one thread.',
  check({ parts }) {
    return eachElement(parts).flatMap(({ part, element }) => {
      if (element.kind !== 'contact' || element !== findHeavyContact(part)) return [];
      const [first, second] = element.between.map((id) => part.terminals.find((terminal) => terminal.id === id && terminal.form === 'stud')?.thread);
      if (first === undefined || second === undefined || canonicalThreadName(first) === canonicalThreadName(second)) return [];
      return [{ where: part.id, words: `contact ${element.id} has studs ${first} and ${second}` }];
    });
  },
};

/** The contact that carries the starter: the one of the highest inrush rating, else continuous rating, else the first. */
function findHeavyContact(part: Part): ContactElement | undefined {
  const contacts = part.circuit.filter((element) => element.kind === 'contact');
  const ratingOf = ({ inrushA, continuousA }: ContactElement): number => inrushA ?? continuousA ?? 0;
  return contacts.toSorted((a, b) => ratingOf(b) - ratingOf(a))[0];
}
