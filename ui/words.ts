import type { Criterion } from '../catalog-schema/index.ts';
import type { Lack, StepName, StepState } from './screens/step-states.ts';

/**
 * Every word the screens show, in one table, so that another language is one more table.
 * Words with a gap in them are functions. Words of the answers (why a check failed) come from the engine.
 */
export const words = {
  product: 'lugwright',
  today: 'today',
  back: 'Back',
  close: 'Close',
  undo: 'Undo',
  yes: 'yes',
  no: 'no',
  notKnown: 'not known',
  working: 'Working it out',
  loading: 'Fetching',
  tryAgain: 'Try again',
  skipToContent: 'Skip to the sheet',
  list: (items: readonly string[]): string =>
    items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`,

  nav: { label: 'Pages', jobs: 'Jobs', counter: 'Counter', settings: 'Settings' },

  faults: {
    unreachable: 'The shop’s server was not reached. Nothing you entered is lost while this page stays open.',
    refused: 'The server did not take this:',
    'not-found': 'There is nothing at this address.',
    taken: 'Not enough is free any more. The shelf has been read again.',
    failed: 'The server failed at this. It is not your entry.',
    engine: 'The matching could not be worked out:',
  },

  send: {
    allSent: 'All sent',
    waiting: (count: number): string => (count === 1 ? '1 change is being sent' : `${count} changes are being sent`),
    stuck: (count: number): string => `${count === 1 ? '1 change is' : `${count} changes are`} not sent yet. The server is not reached; it is tried again by itself. Keep this page open: changes wait in memory only and go with it.`,
    refused: 'The server refused a change; it has been taken back:',
    sendNow: 'Send now',
    counterSheet: 'A counter sheet: kept in this page only, until it is made a job.',
  },

  settings: {
    title: 'Settings',
    unit: 'Lengths are shown and read in',
    mm: 'Millimetres',
    inch: 'Inches',
    unitHint: 'A field reads both when the unit is written with the number: 8 mm, 5/16 in.',
    theme: 'Ground',
    themes: { auto: 'As the device', light: 'Paper', dark: 'Blueprint', daylight: 'Daylight' },
    themeHint: 'Daylight is black on white, for the yard in the sun.',
    author: 'Your name',
    authorHint: 'Stands beside what you change and under a sign-off. May stay empty.',
    kept: 'These choices are kept on this device only.',
  },

  jobs: {
    title: 'Jobs',
    start: 'Start a job',
    emptyTitle: 'No jobs yet',
    empty: 'Start a job when a machine comes in: give it a name, then record the wires before the first nut comes off. For a part without a machine, go to the counter.',
    changed: (when: string): string => `changed ${when}`,
    noMachine: 'machine not named',
    stepsDone: (done: number): string => `${done} of 7 steps done`,
    signedOff: 'signed off',
    needsLook: (steps: string): string => `needs a look: ${steps}`,
    next: (step: string): string => `next: ${step}`,
  },

  start: {
    title: 'Start a job',
    name: 'What is wrong',
    nameHint: 'A few words to find it again: “water pump, does not crank”',
    machine: 'Machine',
    machineHint: 'Make and model as on its plate, if there is one',
    customer: 'Customer',
    volts: 'The machine’s volts',
    partClass: 'What came off, or will',
    create: 'Start this job',
    fromCounter: (title: string): string => `Takes along what is on the counter sheet “${title}”.`,
    nameMissing: 'Give the job a few words, so that it can be found again.',
  },

  counter: {
    title: 'At the counter',
    lead: 'Somebody stands here with a part. Two ways in, no job needed.',
    byNumber: 'It has a number',
    numberField: 'Number on the part',
    numberHint: 'As it is stamped or read out; a misread letter is allowed for.',
    find: 'Find',
    noHits: (text: string): string => `Nothing in the catalogue is like “${text}”. Measure the part instead.`,
    startFrom: 'Start from this part',
    noNumber: 'It has no number',
    noNumberHint: 'Start from a blank bench record and measure.',
    blank: 'Blank record',
    sheetTitle: 'Counter sheet',
    fromPart: (title: string): string => `Counter: like ${title}`,
    makeJob: 'Make this a job',
    leave: 'Throw this sheet away',
    open: 'Go on with the open sheet',
    jobOnly: 'This step belongs to a job with a machine. Make the sheet a job to go on here.',
    hows: {
      same: 'this number', normalised: 'this number, written otherwise', replaces: 'claimed to replace it; a claim, not a check',
      'likely-misread': 'if a character was misread', similar: 'a number like it', words: 'by words in its title',
    },
    superseded: (titles: string): string => `dead number; now ${titles}`,
    recordFrom: 'Terminals, volts and bolts are taken from the catalogue part: correct what differs on the part in your hand.',
  },

  steps: {
    label: 'Steps of this job',
    names: {
      prove: 'Prove', 'as-found': 'As found', bench: 'Bench', fits: 'Fits', get: 'Get', 'as-left': 'As left', record: 'Record',
    } satisfies Record<StepName, string>,
    states: { empty: 'empty', begun: 'begun', done: 'done', look: 'needs a look' } satisfies Record<StepState, string>,
    lacksTitle: 'Still open here',
    hang: (hanging: number, of: number): string => (hanging === of ? `all ${of} fits hang on it` : `${hanging} of ${of} fits hang on it`),
    lack: (lack: Lack): string => {
      switch (lack.kind) {
        case 'no-proof': return 'the fault is not proved';
        case 'no-class': return 'what kind of part it is';
        case 'no-terminals': return 'the terminals of the part';
        case 'no-wires': return 'no wire is recorded';
        case 'no-wire-to': return `no wire leads to ${words.wire.leadsTo[lack.leadsTo].name}`;
        case 'not-traced': return `where ${words.list(lack.names)} ${lack.names.length === 1 ? 'leads' : 'lead'}`;
        case 'no-end': return `what is on the end of ${words.list(lack.names)}`;
        case 'no-stud-size': return `the size of ${words.list(lack.names)}`;
        case 'no-pitch': return `no pitch yet on ${words.list(lack.names)}`;
        case 'no-tab-width': return `the width of ${words.list(lack.names)}`;
        case 'no-ohms': return 'no ohms between terminals yet';
        case 'no-bolts': return 'where the mounting bolts are';
        case 'readings-conflict': return 'readings that cannot all be true';
        case 'not-chosen': return 'no part is chosen';
        case 'chosen-no-longer-fits': return 'the chosen part will not do by what is recorded now';
        case 'wires-changed-since-chosen': return 'the wires have changed since the part was chosen: choose it again';
        case 'not-got': return 'the chosen part is neither put aside nor ordered';
        case 'got-another': return 'another part than the chosen one is put aside or ordered';
        case 'step-bad': return 'a step of the checklist went wrong';
        case 'not-signed-off': return 'not signed off';
      }
    },
  },

  prove: {
    notYet: 'This step cannot weigh evidence yet: it takes no readings and proves no fault. What you find by hand can still be trusted to the other steps, none of which waits for this one.',
    meanwhile: 'Until then, in this order (common practice, no source)',
    order: [
      'A click is not a verdict. It can be a weak battery, a dirty post, a poor ground, burnt contacts, a dead starter or a locked engine.',
      'Measure the battery at its posts, at rest and while cranking. A dirty post is itself a no-start: clean it first.',
      'With the switch in START, measure the drop from stud to stud, from post to stud, and from the starter’s case to battery minus. The place that drops the volts is the fault.',
      'No click: look for volts across the coil’s two ends. Volts and no pull-in is the coil; no volts is the feed, the return or an interlock.',
    ],
    caution: 'Batteries give off explosive gas and can melt a tool: eye protection, no jewellery. A voltage-drop test finds the same fault as bridging the studs and bypasses no interlock.',
  },

  partClass: {
    'start-relay': 'Start relay', contactor: 'Contactor', 'plug-in-relay': 'Plug-in relay', 'shift-solenoid': 'Shift solenoid',
    'starter-motor': 'Starter motor', unknown: 'Not known yet',
  },
  fits: {
    title: 'Fits',
    verdicts: { direct: 'Goes on as it is', adapt: 'Goes on with work', unproven: 'Not shown yet', no: 'Will not do' },
    filter: 'Show',
    all: 'all that may go on',
    filterCount: (what: string, count: number): string => `${what} (${count})`,
    considered: (count: number): string => `${count} parts of the catalogue compared.`,
    noneYet: 'Nothing is recorded that a part could be compared with. Hang the wires on As found, or measure on Bench.',
    none: 'No part of the catalogue may go on by what is recorded. The refused ones say why.',
    noneHere: 'None in this list.',
    more: (count: number): string => `Show ${count} more`,
    takes: 'takes',
    takesNothing: 'nothing but the part',
    kitItem: (qty: number, item: string, detail: string): string => `${qty} × ${item}${detail === '' ? '' : ` ${detail}`}`,
    moves: (count: number): string => (count === 1 ? 'one wire on another place' : `${count} wires on other places`),
    leavesOff: (count: number): string => (count === 1 ? 'one wire left off' : `${count} wires left off`),
    holes: (count: number): string => (count === 1 ? 'one new hole' : `${count} new holes`),
    turnedOver: 'bracket turned over',
    inBin: (bin: string, free: number): string => `bin ${bin}, ${free} free`,
    comes: (day: string): string => `comes ${day}`,
    nowhere: 'nobody offers it',
    cost: 'expected cost',
    costParts: { part: 'part', kit: 'kit', labour: 'labour', misfit: 'risk of a misfit', wait: 'waiting' },
    chosen: 'chosen',
    choose: 'Choose this part',
    chosenNow: 'This part is chosen for the job.',
    chooseAgain: 'Choose again with the wires as they are now',
    chooseRefused: 'A part that will not do cannot be chosen.',
    chooseUnproven: 'Not everything is shown for this part. What is open is listed below; settle it before the part goes on.',
    toGet: 'Get it',
    toAsLeft: 'Put it back',
    backToList: 'All fits',
    notInCatalogue: (id: string): string => `The catalogue has no part ${id}.`,
    checks: 'What was checked',
    outcomes: { fail: 'fails', unknown: 'not shown', work: 'needs work', pass: 'holds' },
    needed: 'needed',
    offered: 'offered',
    safety: 'safety',
    wiring: 'Wiring',
    obvious: 'If every wire simply went back to its old place:',
    noPlan: 'No way to wire it was found that is right in every position of the switches.',
    mounting: 'Old under new',
    kit: 'To make ready',
    assumptions: 'Taken as given, because nothing else was said',
    cautions: 'Take care',
    measureNext: 'Measure next',
    numbers: 'Numbers',
    replaces: (number: string, issuer: string): string => `said to replace ${issuer} ${number} (a claim, not a check)`,
    supersededBy: (titles: string): string => `superseded: now ${titles}`,
  },

  get: {
    title: 'Get',
    where: 'where',
    nothingChosen: 'No part is chosen yet. Choose one on Fits, then put it aside or order it here.',
    toFits: 'To the fits',
    qty: 'How many',
    shelf: 'On the shelf',
    notOnShelf: 'no bin holds it',
    bin: (bin: string, free: number, onHand: number): string => `bin ${bin}: ${free} free of ${onHand}`,
    reserve: (qty: number, bin: string): string => `Put ${qty} aside for this job from bin ${bin}`,
    sell: (qty: number, bin: string): string => `Take ${qty} from bin ${bin} as a counter sale`,
    supplier: 'From a supplier',
    noOffer: 'nobody offers it',
    offer: (supplier: string, qty: number, price: string, day: string): string => `cheapest standing offer: ${supplier}, ${qty} at ${price} each, comes ${day} when ordered today`,
    draft: 'Draft an order line',
    heldJob: 'Put aside and drafted for this job',
    heldCounter: 'Taken and drafted on this sheet',
    nothingHeld: 'Nothing yet.',
    held: (qty: number, bin: string): string => `${qty} put aside in bin ${bin}`,
    drafted: (qty: number, supplier: string, price: string, day: string): string => `order line drafted: ${qty} from ${supplier} at ${price} each, comes ${day}`,
    release: 'Give back to the shelf',
    reserved: 'Put aside.',
    orderDrafted: 'Order line drafted.',
    released: 'Given back to the shelf.',
    holdingsFailed: 'What is put aside could not be read; what stands here may be old.',
  },

  criteria: {
    'coil-voltage': 'Coil voltage', 'coil-duty': 'Coil duty', 'coil-current': 'Control current', 'pull-in': 'Pull-in',
    'contact-form': 'Contact', 'contact-inrush': 'Inrush', 'contact-continuous': 'Continuous current', wiring: 'Wiring',
    interlock: 'Interlocks', polarity: 'Polarity', stud: 'Studs and lugs', tab: 'Tabs', mounting: 'Mounting', space: 'Room',
    sealing: 'Sealing', ambient: 'Temperature', voltage: 'Voltage', rotation: 'Rotation', pinion: 'Pinion', power: 'Power', nose: 'Nose',
  } satisfies Record<Criterion, string>,

  wiring: {
    wire: 'Wire', leads: 'Leads to', was: 'Was on', now: 'Goes on', end: 'End',
    stays: 'same place', jumper: 'Jumper to make', leftOff: 'stays off: insulate and tie back', bare: 'Stays bare',
    terminal: (id: string, marking: string | undefined): string => (marking === undefined || marking === id ? id : `${id} (${marking})`),
    states: 'What it does then',
    start: 'START', interlocks: 'interlocks', running: 'engine runs', held: 'held', released: 'let go', satisfied: 'satisfied', broken: 'open',
    cranks: 'cranks', doesNotCrank: 'does not crank', pulledIn: 'pulled in', out: 'out', control: 'control current',
  },

  form: { stud: 'Stud', tab: 'Tab', screw: 'Screw', lead: 'Lead', pin: 'Pin' },
  node: { case: 'the case', chassis: 'chassis' },

  wire: {
    endNotSaid: 'end not recorded',
    sizeNotSaid: 'size not recorded',
    ring: (hole: string): string => `ring lug, hole ${hole}`,
    receptacle: (width: string): string => `receptacle ${width}`,
    bare: 'bare end',
    newEnd: 'new end',
    leadsTo: {
      battery: { name: 'battery', hint: 'Heavy cable from the plus post. Live with everything off.' },
      starter: { name: 'starter', hint: 'Heavy cable to the starter. Reads near 0 ohms to chassis through the motor.' },
      'start-switch': { name: 'start switch', hint: 'Live only while the switch is held in START.' },
      chassis: { name: 'chassis', hint: 'Straight to battery minus: reads under 1 ohm with every interlock open.' },
      'interlocked-return': { name: 'interlock return', hint: 'To battery minus only while seat, brake or blade switches are satisfied. Open one: it must read open.' },
      'cranking-feed': { name: 'cranking feed', hint: 'Must be live while cranking; feeds the ignition or a fuel valve.' },
      tap: { name: 'take-off', hint: 'A take-off from the battery stud: charging wire or main fuse.' },
      unknown: { name: 'not traced', hint: 'Nothing can be wired back until it is traced with a meter.' },
    },
  },
} as const;
