import type { Criterion } from '../catalog-schema/index.ts';
import type { Lack, StepName, StepState } from './screens/step-states.ts';
import { conflictWords } from './words/conflicts.ts';
import { findNames } from './words/find.ts';
import { offlineWords } from './words/offline.ts';
import { accessWords } from './words/access.ts';
import { orderNames } from './words/order-names.ts';
import { shelfNames } from './words/shelf.ts';
import { recordWords } from './words/record.ts';
import { photographNames } from './words/photograph.ts';
import { wiresWords } from './words/wires.ts';

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

  access: accessWords,
  shelf: shelfNames,
  nav: { label: 'Pages', jobs: 'Jobs', counter: 'Counter', plan: 'Plan', planTitle: 'What to get', reorderTitle: 'What the shelf should have', shelf: 'Shelf', orders: 'Orders', settings: 'Settings' },

  faults: {
    unreachable: 'The shop’s server was not reached.',
    'signed-out': 'The server asks who you are first. What you entered is kept on this device and is sent after you have signed in.',
    refused: 'The server did not take this:',
    'not-found': 'There is nothing at this address.',
    taken: 'Not enough is free any more. The shelf has been read again.',
    failed: 'The server failed at this. It is not your entry.',
    engine: 'The matching could not be worked out:',
  },

  send: {
    allSent: 'all sent',
    notSent: (count: number): string => `${count} not sent`,
    keptHere: 'kept here',
    stuck: (count: number): string => `${count === 1 ? '1 change waits' : `${count} changes wait`} on this device. The server is not reached; it is tried again by itself, also after this page was closed.`,
    inMemory: (count: number): string => `This device cannot keep ${count === 1 ? '1 change' : `${count} changes`}: keep this page open until all is sent.`,
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
    gauge: 'No calipers at hand? Print the bench gauge sheet',
  },

  gauge: {
    title: 'Bench gauge sheet',
    lead: 'For whoever has no calipers: holes, studs, tabs, hexagons and thread combs at true size. Lay the part on the paper.',
    scale: 'Print at 100 %, never “fit to page”. Measure both 100 mm bars on each page with a steel rule: a wrong scale makes every gauge wrong. On this screen the sizes are not true.',
    paper: 'Paper in the printer',
    print: 'Print',
    page: (number: number, of: number): string => `Gauge sheet, page ${number} of ${of}`,
  },

  jobs: {
    title: 'Jobs',
    start: 'Start a job',
    emptyTitle: 'No jobs yet',
    empty: 'Start a job when a machine comes in: give it a name, then record the wires before the first nut comes off. For a part without a machine, go to the counter.',
    changed: (when: string): string => `changed ${when}`,
    noMachine: 'machine not named',
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
    thisOne: 'This one',
    startFrom: 'Start a bench record from this part',
    noNumber: 'It has no number',
    noNumberHint: 'Start from a blank bench record and measure.',
    blank: 'Blank record',
    sheetTitle: 'Counter sheet',
    fromPart: (title: string): string => `Counter: like ${title}`,
    makeJob: 'Make this a job',
    leave: 'Throw this sheet away',
    open: 'Go on with the open sheet',
    jobOnly: 'This step belongs to a job with a machine. Make the sheet a job to go on here.',
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
        case 'evidence-quarrels': return 'the readings contradict one another, or more than one thing failed';
        case 'proves-another': return 'what is proven does not pay for the chosen part';
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
        case 'wires-changed-since-chosen': return 'what is recorded has changed since the part was chosen, and its wiring with it: choose it again';
        case 'not-got': return 'the chosen part is neither put aside nor ordered';
        case 'got-another': return 'another part than the chosen one is put aside or ordered';
        case 'step-bad': return 'a step of the checklist went wrong';
        case 'not-signed-off': return 'not signed off';
        case 'sign-off-lapsed': return 'wires, choice or ticks have changed since the sign-off: sign off anew';
      }
    },
  },

  partClass: {
    'start-relay': 'Start relay', contactor: 'Contactor', 'plug-in-relay': 'Plug-in relay', 'shift-solenoid': 'Shift solenoid',
    'starter-motor': 'Starter motor', unknown: 'Not known yet',
  },
  field: {
    understood: (echo: string): string => `read as ${echo}`,
    cannotBe: (why: string): string => `cannot be: ${why}`,
    open: 'open',
    pad: 'Number pad',
    backspace: 'Take back one character',
    done: 'Enter',
    instrumentOf: (label: string): string => `${label}: read with`,
    instruments: { caliper: 'caliper', tape: 'tape', threadGauge: 'thread gauge', eye: 'by eye', wrench: 'wrench', meter: 'meter', clamp: 'clamp', own: 'own' },
  },

  asFound: {
    lead: 'Before the first nut comes off: hang every wire on the terminal it sits on.',
    setUpTitle: 'What terminals does it have?',
    setUpLead: 'Look at the terminal face with the bracket down. They are named A, B, C; write that beside them with a pen.',
    studs: 'Studs',
    tabs: 'Tabs',
    fewer: (what: string): string => `One fewer of: ${what}`,
    more: (what: string): string => `One more of: ${what}`,
    place: 'The small ones sit',
    places: { above: 'above the studs', between: 'between the studs', below: 'below the studs' },
    draw: 'Draw these terminals',
    hang: 'Tap a terminal to hang a wire on it.',
    wires: 'Wires',
    noWires: 'No wire yet. Tap a terminal in the drawing.',
    wireOn: (tag: string, terminal: string): string => `Wire ${tag} on ${terminal}`,
    newWire: 'not recorded until you choose something',
    tieTag: (tag: string): string => `Tie a label “${tag}” to it.`,
    leadsTo: 'Where does it lead?',
    colour: 'Colour',
    stripe: 'Stripe',
    noStripe: 'no stripe',
    size: 'Size',
    otherSize: 'Another size',
    otherSizeHint: 'such as 2.5, 16 mm2, 4 AWG',
    end: 'End',
    ringFor: (studs: string): string => `ring ${studs}`,
    hole: (size: string): string => `hole ${size}`,
    receptacle: 'receptacle',
    otherRing: 'A ring with another hole',
    otherHole: 'Hole',
    addStripe: 'It has a stripe',
    next: 'Next wire on',
    takeOff: 'Take this wire off the record',
    moveTo: 'Sits on',
    editTerminals: 'Change the terminals',
    terminal: (id: string): string => `Terminal ${id}`,
    form: 'It is a',
    marking: 'Stamped beside it',
    markingHint: 'S, I, 86, + or nothing',
    move: 'Move it in the drawing, 2 mm a tap',
    moves: { left: 'left', right: 'right', up: 'up', down: 'down' },
    removeTerminal: 'Remove this terminal',
    removeTerminalWires: (tags: string): string => `Remove this terminal with ${tags} and its readings`,
    addTerminal: (form: string): string => `Add a ${form}`,
  },

  record: recordWords,

  bench: {
    partTitle: 'The part',
    boltsTitle: 'Mounting',
    spaceTitle: 'Room on the machine',
    systemTitle: 'The machine',
    demandTitle: 'What the machine asks of it',
    starterTitle: 'Starter',
    partClass: 'What it is',
    interlocks: {
      'in-return': 'in its return', 'in-feed': 'in its feed', both: 'in both', none: 'none act on it', unknown: 'not known',
    },
    acts: { return: 'opens the coil’s return', feed: 'opens the coil’s feed', 'stops-engine': 'stops the engine' },
  },

  conflicts: conflictWords,
  find: findNames,
  offline: offlineWords,
  orders: orderNames,
  photograph: photographNames,
  wires: wiresWords,

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
    drafted: (qty: number, supplier: string, price: string, day: string): string => `${qty} from ${supplier} at ${price} each, comes ${day}`,
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
    states: 'What it does in each position of the switches',
    statesHint: 'Plus at the left, chassis at the right. Heavy coloured lines are at battery volts, arrows show where current flows; an open gap is an open contact.',
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
