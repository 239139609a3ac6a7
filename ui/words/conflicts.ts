import type { JobConflict } from '../../catalog-schema/index.ts';

/** Words of what two devices wrote without knowing of each other, and of what the server refused. */
export const conflictWords = {
  waiting: (count: number): string => (count === 1 ? '1 entry waits for your choice' : `${count} entries wait for your choice`),
  marked: 'waits for your choice',
  lead: 'Nothing is lost and nothing was chosen for you. Until you choose, what stands is used; the job cannot be signed off.',
  why: {
    'other-value': 'Two devices wrote here without knowing of each other.',
    'does-not-read': 'Made on one device while another took its ground away. Taken as it is now, it would not read:',
    'signed-off': 'This and the sign-off did not know of each other. Whoever signs has to have seen it.',
    'open-conflicts': 'Signed off while something else waited for a choice.',
    'not-ready': 'Signed off without a network, and not yet ready when it arrived:',
  } satisfies Record<JobConflict['why'], string>,
  stands: 'Stands now',
  waits: 'Waits',
  by: (who: string, where: string, when: string): string => [who, where, when].filter((part) => part !== '').join(', '),
  here: 'on this device',
  elsewhere: 'on another device',
  /** a value too long for a button stands beside it; '' is none */
  buttons: {
    stands: (value: string | undefined): string => (value === undefined ? 'Keep this' : value === '' ? 'Keep it empty' : `Keep ${value}`),
    waits: (value: string | undefined): string => (value === undefined ? 'Take this' : value === '' ? 'Take it away' : `Take ${value}`),
  },
  nothing: 'nothing',
  third: 'Or write something else',
  thirdSave: 'Use this',
  together: (count: number): string => `These ${count} were one act and belong together.`,
  takeAll: (count: number): string => `Take all ${count}`,
  keepAll: 'Keep all as it stands',
  cannotTake: 'It cannot be taken as things stand:',

  refusedTitle: (count: number): string => (count === 1 ? 'The server did not take one thing you entered' : `The server did not take ${count} things you entered`),
  refusedLead: 'Kept on this device and counted nowhere, until you send it again or let it go.',
  serverSaid: 'The server said:',
  sendAgain: 'Send it again',
  letGo: 'Let it go',

  fields: {
    notes: 'Notes', minutes: 'Minutes of work', chosen: 'The chosen part', signedOff: 'Sign-off', proved: 'What was proved',
    photograph: 'A photograph', step: (name: string): string => `As left, step “${name}”`, record: 'The bench record',
    wires: 'All wires', wire: (tag: string): string => `Wire ${tag}`, terminals: 'All terminals', terminal: (id: string): string => `Terminal ${id}`,
    proof: 'The proof', seen: 'What was seen of the fault', instruments: 'Instruments at hand',
    ohms: 'All ohm readings', ohm: (a: string, b: string): string => `Ohms between ${a} and ${b}`, anOhm: 'An ohm reading',
  },
  /** names of single fields, where the name of the key in words would not do */
  names: {
    areaMm2: 'size', leadsTo: 'leads to', wasOn: 'sits on', at: 'place', atBy: 'place by', majorDiameterMm: 'outside diameter', pitchMm: 'pitch',
    nutAcrossFlatsMm: 'nut across flats', tabWidthMm: 'width', tabThicknessMm: 'thickness', holeMm: 'hole', marking: 'stamp', holes: 'bolts', ohm: 'reading',
    between: 'between', pulledIn: 'held in', plusOn: 'plus on', nominalV: 'volts', partId: 'part', by: 'by', coilV: 'volts marked', batteryCcaA: 'battery’s cold-cranking amps', ambientC: 'temperature of the battery',
  } as Readonly<Record<string, string>>,
  signed: (by: string, when: string): string => `signed off by ${by}, ${when}`,
  ticked: (when: string, by: string): string => (by === '' ? `done ${when}` : `done ${when} by ${by}`),
  reading: (figure: string): string => `reading ${figure}`,
} as const;
