import type { FindAnswer, NumberChange } from '../../catalog-schema/index.ts';

type Hit = FindAnswer['hits'][number];

const sign = (character: string): string => `“${character}”`;

/** Words of what a look-up found, and of its screen: no other page needs them. */
export const findWords = {
  lead: 'By the number on it, as far as it can be read, or by words.',
  label: 'Number or words',
  hint: 'A scanner may type it too. Misread, swapped and lost characters are allowed for.',
  camera: 'Read a code with the camera',
  looking: 'Looking',
  count: (count: number): string => (count === 1 ? '1 part' : `${count} parts`),
  none: (text: string): string => `Nothing in the catalogue is like ${sign(text)}.`,
  noneNext: 'Measure the part instead: at the counter, from a blank record.',
  toCounter: 'To the counter',
  more: (count: number): string => `Show ${count} more`,
  groups: {
    number: 'This number', claims: 'In place of this number', near: 'Numbers like it', words: 'By words',
  } satisfies Record<string, string>,
  nearOnly: 'No part has this number',
  hows: {
    same: 'as written', normalised: 'written otherwise', replaces: 'in its place', 'likely-misread': 'perhaps misread', similar: 'similar', words: '',
  } satisfies Record<Hit['how'], string>,
  change: ({ kind, read, is }: NumberChange): string => {
    switch (kind) {
      case 'confused': case 'other': return `${sign(read)} for ${sign(is)}`;
      case 'swapped': return `${sign(read)} for ${sign(is)}, swapped`;
      case 'lost': return `${sign(is)} not read`;
      case 'added': return `${sign(read)} too many`;
      default: return kind satisfies never;
    }
  },
  claimed: (source: string | undefined): string => (source === undefined ? 'claimed by somebody, not checked' : `claimed by “${source}”, not checked`),
  held: (held: number, cameBack: number, forNumber: boolean): string => `this shop fitted it${forNumber ? ' for this number' : ''}: ${held} held, ${cameBack} came back`,
  replaced: (title: string): string => `Replaced by ${title}`,
  kit: (titles: string): string => `Replaced by a kit: ${titles}`,
  place: (bin: string, free: string): string => `bin ${bin}, ${free}`,
  nowhere: 'none on the shelf',
  show: 'Shelf',
  showName: (title: string, number: string): string => `Shelf: ${title}, ${number}`,
};
