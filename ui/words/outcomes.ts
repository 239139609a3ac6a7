/** Words of what became of a fitted part. */
export const outcomeWords = {
  title: 'Did it hold?',
  lead: 'Tell it when you know. The shop learns from it: the next fit of this part on such a machine counts what you say here.',
  notFitted: 'Once the machine has been signed off, say here whether the part held.',
  held: 'It held',
  cameBack: 'It came back',
  results: { held: 'held', 'came-back': 'came back' },
  why: 'Why did it come back?',
  reasons: {
    'did-not-go-on': 'it did not go on', 'did-not-work': 'it did not work on this machine', failed: 'it worked, then failed', 'fault-elsewhere': 'the part was good, the fault elsewhere',
    other: 'something else',
  },
  notCounted: 'does not count against the part',
  words: 'In your own words',
  wordsHint: 'May stay empty',
  save: 'Keep it',
  notYet: 'Not yet',
  kept: 'Kept. The fits have been worked out anew.',
  last: 'The last word counts: what was said before stays on record.',
  said: (result: string, reason: string, when: string, by: string): string => [`${result}${reason === '' ? '' : `: ${reason}`}`, when, ...(by === '' ? [] : [by])].join(', '),
  notRead: 'What was told before could not be read.',
} as const;
