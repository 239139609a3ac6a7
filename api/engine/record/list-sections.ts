import type { CustomerRecord, RecordLine } from '../../../catalog-schema/index.ts';
import { STEP_WORDS } from '../as-left/index.ts';
import { RECORD_WORDS as words } from './words.ts';

/** A heading of the page with what stands under it: lines of words, or pairs of what was done and what it showed. */
export interface RecordSection { readonly name: keyof typeof words.sections; readonly title: string; readonly lines: readonly string[]; readonly table: readonly RecordLine[] }

/** The page as a list of sections, in the order in which it is read. `sayMoment` puts a moment as its reader writes it. */
export function listSections({ found, measured, bench, replaced, notNeeded, shown, released }: CustomerRecord, sayMoment: (iso: string) => string): RecordSection[] {
  const section = (name: RecordSection['name'], lines: readonly string[], table: readonly RecordLine[] = []): RecordSection => ({ name, title: words.sections[name], lines, table });
  const plain = ({ what, showed }: RecordLine): RecordLine => ({ what, showed });
  const tried = shown.filter(({ interlock }) => interlock);
  return [
    section('found', [found.words, ...(found.settles === null ? [] : [found.settles])]),
    section('measured', measured.length === 0 ? [words.nothingMeasured] : [], measured.map(({ what, showed, carries }) => ({ what, showed: carries ? `${showed}, ${words.carries}` : showed }))),
    section('replaced', [replaced.words, ...(replaced.evidence === null ? [] : [replaced.evidence.words]), ...replaced.wiring]),
    section('notNeeded', [notNeeded.length === 0 ? words.nothingCleared : words.notNeeded(words.list(notNeeded))]),
    ...(bench.length === 0 ? [] : [section('bench', [], bench)]),
    section('shown', shown.length === 0 ? [words.noProofs] : [], shown.filter(({ interlock }) => !interlock).map(plain)),
    ...(tried.length === 0 ? [] : [section('interlocks', [], tried.map(plain))]),
    section('released', [sayReleased(released, sayMoment)]),
  ];
}

function sayReleased({ state, by, at }: CustomerRecord['released'], sayMoment: (iso: string) => string): string {
  switch (state) {
    case 'none': return words.notReleased;
    case 'stands': return STEP_WORDS.sheet.signed(by ?? '', sayMoment(at ?? ''));
    case 'lapsed': return STEP_WORDS.sheet.lapsed(by ?? '', sayMoment(at ?? ''));
    default: throw new Error(`no such state: ${String(state satisfies never)}`);
  }
}
