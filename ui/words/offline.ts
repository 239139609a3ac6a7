import type { Errand, KeptAnswer, StoreTrouble, WaitingItem } from '../client/index.ts';

/** What waits on a device, and what its store cannot do. */
export const offlineWords = {
  /** the line at the top of every page */
  strip: {
    waiting: (count: number): string => `${count === 1 ? '1 thing waits' : `${count} things wait`} to be sent`,
    unreachable: 'server not reached',
    signedOut: 'sign in to send',
    refused: (count: number): string => `the server said no to ${count === 1 ? '1 thing' : `${count} things`}`,
    show: 'Show what waits',
  },

  title: 'What waits to be sent',
  lead: 'Kept on this device until the shop’s server has it. You can close the page: it is sent the next time it is open and the server is reached.',
  nothing: 'Nothing waits. The server has everything.',
  reached: 'The server was reached at the last try.',
  unreachable: 'The server is not reached. It is tried again by itself, and at once when this device finds a network.',
  signedOut: 'The server asks who you are first. Everything here is kept and is sent after you have signed in.',
  sendNow: 'Send now',
  since: (when: string): string => `since ${when}`,
  serverSaid: 'The server said',
  answers: {
    taken: 'It cannot be done as things stand.',
    refused: 'It was not taken.',
    'not-found': 'It is about something that is not there any more.',
    failed: 'The server failed at it, and is asked again.',
  } satisfies Record<KeptAnswer['kind'], string>,
  tryAgain: 'Try again',
  drop: 'Give it up',
  dropSure: 'Give up for good',
  dropKeep: 'Keep it',
  dropWhat: 'It is taken off this device and cannot be had back.',

  items: {
    changes: (count: number): string => (count === 1 ? '1 change' : `${count} changes`),
    photograph: (sentPercent: number, megabytes: string): string => `a photograph, ${megabytes} MB${sentPercent === 0 ? '' : `, ${sentPercent} % has arrived`}`,
    'start-job': 'begin the job',
    reserve: (qty: number, part: string): string => `put ${qty} ${part} aside`,
    sell: (qty: number, part: string): string => `sell ${qty} ${part} over the counter`,
    release: 'put what was set aside back on the shelf',
    'order-line': (qty: number, part: string): string => `order ${qty} ${part}`,
    moves: (kinds: string, parts: string): string => `${kinds}: ${parts}`,
    'order-acts': (number: number, acts: string): string => `order ${number}: ${acts}`,
    outcome: (part: string): string => `tell what became of ${part}`,
  } satisfies Record<WaitingItem['what'] | 'sell', unknown>,
  noJob: 'at the counter',
  openJob: 'Open the job',

  /** beside what was asked for on Get and Record */
  kept: {
    'start-job': 'The job is kept on this device and will be begun at the server when it is reached.',
    reserve: 'Kept on this device. Whether one is still free is known when the server is reached.',
    release: 'Kept on this device: it goes back on the shelf when the server is reached.',
    'order-line': 'Kept on this device: it is drafted when the server is reached.',
    moves: 'Kept on this device, and booked when the server is reached. Whether enough is free is known then.',
    'order-acts': 'Kept on this device, and done when the server is reached.',
    outcome: 'Kept on this device, and told when the server is reached.',
  } satisfies Record<Errand['kind'], string>,
  waits: 'waits to be sent',
  asOf: (when: string): string => `The server is not reached: prices and shelf as they were ${when}.`,

  troubles: {
    unusable: 'This browser keeps nothing for this page (a private window, or a setting). What you enter lasts only as long as the page is open and is not sent while the server is not reached.',
    full: 'This device is full: what you enter cannot be kept on it. Free some space, or send what waits. What was kept before is still there.',
    outdated: 'A newer version of this page is open in another window and has taken over. Load this page again: what was kept is there.',
    'too-new': 'What is kept on this device was written by a newer version of this page. Load the page again with a network to get that version; nothing of it is lost.',
  } satisfies Record<StoreTrouble, string>,
  reload: 'Load again',
  notLoaded: 'This part of the page could not be fetched. Load it again, with a network if there is one.',
  evicted: (waiting: number, since: string): string => (waiting === 0
    ? 'This browser has cleared what was kept here since the last visit. Nothing was waiting to be sent; the catalogue and the jobs are fetched again.'
    : `This browser has cleared what was kept here since the last visit. ${waiting === 1 ? '1 thing was' : `${waiting} things were`} waiting to be sent${since === '' ? '' : `, the oldest since ${since}`}, and cannot be had back. Look at the jobs you worked on without a network.`),
  evictedRead: 'I have read this',

  storage: {
    title: 'Kept on this device',
    what: 'The jobs, the catalogue and what waits to be sent are kept here, so that work goes on without a network.',
    lasting: {
      'asked-and-granted': 'The browser has promised to keep it until you clear it.',
      'asked-and-refused': 'The browser may clear it when the device runs out of space. Installing the page (in the browser’s menu) usually makes it keep it.',
      'not-asked': 'The browser is asked to keep it as soon as something waits to be sent.',
      'cannot-be-asked': 'This address is not a secure one, or the browser is old: it promises nothing, and the page cannot be opened without a network. Use the https address of the shop.',
    },
    pageNotKept: 'The browser does not keep the page itself, most often because it does not trust the certificate of this address: without a network the page cannot be opened. The steps to trust it are on the page for other devices.',
    space: (used: string, quota: string): string => `${used} MB of ${quota} MB used.`,
  },

  update: {
    ready: 'A new version is ready.',
    take: 'Use it now',
    waitsFor: {
      'half-typed': 'It can be used once the entry you are at is finished.',
      counter: 'It can be used once the counter sheet is made a job or thrown away: that sheet is kept in this page only.',
      unkept: 'It can be used once what could not be kept on this device has been sent.',
    },
  },
} as const;
