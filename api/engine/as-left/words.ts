import type { LeadsTo } from '../../../catalog-schema/index.ts';
import type { OpenBecause } from './judge-step.ts';
import type { ReadingKey } from './step.ts';

/**
 * Every word of the checklist and of its sheet: the screens, the PDF, the command line and a refused sign-off say the same.
 * Words with a gap in them are functions.
 */
export const STEP_WORDS = {
  list: (items: readonly string[]): string => (items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)!}`),
  terminal: (id: string, marking: string | undefined): string => (marking === undefined || marking === id ? id : `${id} (${marking})`),
  node: { case: 'the case', chassis: 'chassis' },
  leadsTo: {
    battery: 'battery', starter: 'starter', 'start-switch': 'start switch', chassis: 'chassis', 'interlocked-return': 'interlock return',
    'cranking-feed': 'cranking feed', tap: 'take-off', unknown: 'not traced',
  } satisfies Record<LeadsTo, string>,
  end: {
    notSaid: 'end not recorded', bare: 'bare end', new: 'new end',
    ring: (hole: string): string => `ring lug, hole ${hole}`,
    receptacle: (width: string): string => `receptacle ${width}`,
  },
  kitItem: (qty: number, item: string, detail: string): string => `${qty} × ${item}${detail === '' ? '' : `: ${detail}`}`,

  batteryOff: 'Take the battery’s minus cable off',
  batteryOffDetail: 'Minus first: a wrench that slips from plus to metal then shorts nothing. Tie it back so that it cannot spring onto the post.',
  remove: 'Take the old part off, a label on every wire',
  removeDetail: 'Each wire carries the tag it has in this drawing. Clean the lug faces to bright metal.',
  makeReady: (kit: string): string => `Make ready: ${kit}`,
  drill: (size: string, what: string, x: string, y: string): string => `Drill ${size} in ${what} at x ${x}, y ${y}`,
  drillIn: { panel: 'the machine’s panel', bracket: 'the new part’s bracket' },
  drillDetail: 'Places are from the zero of the bolts as measured on Bench. Look what lies behind the panel first; deburr, keep chips out of the part.',
  mount: (bolts: number, rotation: number, flipped: boolean): string =>
    `Bolt the new part on${bolts === 0 ? '' : ` with ${bolts} ${bolts === 1 ? 'bolt' : 'bolts'}`}${rotation === 0 ? '' : `, turned ${rotation}°`}${flipped ? ', bracket turned over' : ''}`,
  mountDetail: 'Tighten as the machine’s maker says. Where the bracket is the coil’s return, its seat must be bare, bright metal.',
  wire: (wire: string, leads: string, to: string, was: string): string => `Wire ${wire} from ${leads} onto ${to}${was}`,
  wasOn: (id: string): string => `; it was on the old part’s ${id}`,
  asBefore: ', the same place as before',
  inPlaceOf: (id: string): string => `, in the place of the old part’s ${id}`,
  wireUnplanned: (wire: string, leads: string): string => `Wire ${wire} from ${leads}: onto the terminal that does the same work`,
  leaveOff: (wire: string): string => `Leave wire ${wire} off: insulate its end and tie it back`,
  jumper: (from: string, to: string): string => `Jumper from ${from} to ${to}`,
  fitNewEnd: 'Fit a new end to the wire first.',
  stackOf: (tags: readonly string[]): string => `On this stud from the seat outwards: ${tags.join(', then ')}.`,
  notYet: 'Leave the nut loose: another wire comes onto this stud.',
  stack: 'Lug face directly on the seat, washer outside the lug, never between. Hold the inner nut still while the outer one is tightened (common practice, no source).',
  torque: (thread: string, nm: string, label: string): string => `${thread}: ${nm} N·m. ${label[0]!.toUpperCase()}${label.slice(1)}.`,
  torqueShort: (nm: string): string => `the maker’s figure; without one ${nm} N·m (test torque)`,
  torqueUnknown: 'Torque: the maker’s figure. The thread is not known, so no fallback can be named.',
  studsOpen: (a: string, b: string): string => `On the bench: measure ohms from ${a} to ${b}; it must read open`,
  reading: {
    'coil-ohms': (a, b) => `On the bench: measure the coil, ${a} to ${b}`,
    'standing-current': () => 'Switch off, minus cable still off: amps from the battery’s minus post to its clamp',
    'coil-volts': (a, b) => `With the switch held: volts across the coil, ${a} to ${b}`,
    'contact-drop': (a, b) => `While cranking: volts from ${a} to ${b}, across the contact`,
    'positive-drop': () => 'While cranking: volts from the battery’s plus post to the starter’s stud',
    'ground-drop': () => 'While cranking: volts from the starter’s case to the battery’s minus post',
  } satisfies Record<ReadingKey, (a: string, b: string) => string>,
  readingDetail: {
    'coil-ohms': 'No wire on it yet, and none of your fingers across the probes.',
    'standing-current': 'Meter on its fused 10 A range, key out. Anything that is wired to draw shows here and not as a spark at the clamp.',
    'coil-volts': 'Every interlock satisfied. At most 10 s at a time.',
    'contact-drop': 'Probes on the studs themselves, not on the lugs; spark lead or fuel off, so that it goes on cranking.',
    'positive-drop': 'Probe on the post, not on the clamp: the joint between them is part of the reading.',
    'ground-drop': 'Probe on the post, not on the clamp: the joint between them is part of the reading.',
  } satisfies Record<ReadingKey, string>,
  /** what to do next where a reading lies outside its limit */
  outside: {
    'coil-ohms': 'Do not fit it yet. Read once more with clean probes; if it stays so, it is another coil than the catalogue’s: read the part’s number again.',
    'standing-current': 'Do not put the clamp on. Some 0.1 A is a lamp or a leak: take fuses out one by one until it falls. Amps are a coil that is in or a wire on the wrong terminal: compare every wire with the table.',
    'coil-volts': 'Read the battery’s posts with the switch held. They sag: charge or test the battery. They hold: follow the drop along switch, interlocks and joints (0.2 V a switch, 0.5 V in all: common practice, no source).',
    'contact-drop': 'Move the probes from the studs to the lugs: what changes is in the joint, clean and tighten it. What stays is in the contact: do not leave this part on.',
    'positive-drop': 'Read joint by joint, each at most 0.1 V (common practice). Clean and tighten the one that drops more.',
    'ground-drop': 'Read from the case to the chassis, then from the chassis to the post. Clean to bright metal where it drops.',
  } satisfies Record<ReadingKey, string>,
  atMost: (figure: string): string => `At most ${figure}`,
  atLeast: (figure: string): string => `At least ${figure}`,
  between: (low: string, high: string): string => `${low} to ${high}`,
  yardstick: (name: string): string => `Yardstick: ${name}.`,
  batteryOn: 'Put the battery’s minus cable on, last of all; clean its post and clamp',
  cranks: 'Every interlock satisfied: hold START. It must crank, and stop when let go',
  works: 'Every interlock satisfied: hold the switch. What it feeds must run, and stop when let go',
  cranksDetail: 'At most 10 s at a time, then a minute’s rest; the maker’s figure comes first.',
  running: 'Engine running, switch let go: the relay must stay out',
  interlockCranks: (name: string): string => `Open “${name}”, hold START: it must not crank; made again, it must`,
  interlockHolds: (name: string): string => `Open “${name}”, hold the switch: what it feeds must not run; made again, it must`,
  interlockStops: (name: string): string => `Engine running, open “${name}”: the engine must stop`,
  /** how a meter tells that it is this interlock, and in which side of the coil it sits */
  shownBy: {
    return: (terminal: string): string => `It opens the coil’s return: with START held ${terminal} then stands near battery volts against chassis, and the coil draws nothing.`,
    feed: (terminal: string): string => `It opens the coil’s feed: with START held ${terminal} then stays at 0 V against chassis.`,
  },
  stopsEngine: 'It does not act on the coil: cranking shows nothing of it. Run the engine for this, out of doors, and keep clear of what turns.',
  interlockDetail: 'What the machine’s maker says of this interlock comes first.',
  stop: {
    'studs-open': 'The contact is closed at rest. Do not fit this part.',
    cranks: 'Battery minus off again. Compare every wire with the table below.',
    running: 'Stop the engine. The feed reaches the coil: compare every wire with the table below.',
    interlock: 'The machine must not be released. Find out why before anything else.',
  },
  cautionBattery: 'Batteries give off explosive gas, and a short across the heavy studs can melt a tool: eye protection, no jewellery.',
  cautionCapacitors: 'On 36 and 48 V machines capacitors may stay charged: follow the maker.',
  cautionMeterInLine: 'Turn no switch while the meter is in the battery lead: cranking current would go through it. Eye protection; keep sparks from the battery.',
  cautionCranking: 'Transmission in neutral, brake set, blades or pump disengaged, nobody near.',
  cautionRelease: 'A machine must not be released until each interlock has been shown to do what its maker says. The maker’s procedure, local codes and licensed practice come first.',
  cautionUnplanned: 'No wiring was worked out for this part. Compare its own diagram with the record before anything is connected.',
  cautionHeavy: 'This stud is live as soon as the battery’s minus is on: tools and rings clear of it and of the case.',

  because: {
    changed: 'ticked for another part, wiring or test: do it again', nobody: 'ticked without a name', 'no-reading': 'ticked without a reading',
    'no-outcome': 'ticked without saying whether it did what it must',
  } satisfies Record<OpenBecause, string>,
  wentWrong: 'went wrong',
  outsideLimit: (reading: string): string => `the meter showed ${reading}, outside the limit`,

  block: {
    nothingChosen: 'no part is chosen: the checklist is made from the chosen part and its wiring',
    notInCatalogue: (partId: string): string => `the chosen part ${partId} is not in the catalogue`,
    working: 'what is recorded has not been worked out against the chosen part yet',
    noLongerFits: 'the chosen part will not do by what is recorded now',
    stale: 'what is recorded has changed since the part was chosen, and its wiring with it: choose it again',
    noList: 'nobody has said which interlocks the machine has: list them, or say that it has none',
    unlisted: {
      return: 'interlocks act in the coil’s return, and none of the list does: list each of them',
      feed: 'interlocks act in the coil’s feed, and none of the list does: list each of them',
    },
    conflicts: (count: number): string => (count === 1 ? 'one field has two values from two devices: choose one' : `${count} fields have two values from two devices: choose one each`),
    noName: 'a sign-off needs a name',
    otherWork: 'it was signed for another state of the wires, the choice or the ticks',
  },

  sheet: {
    title: 'As left', newPart: 'New part', wiring: 'Old and new wiring', steps: 'Steps', optional: 'may be left out',
    columns: { wire: 'Wire', leads: 'Leads to', was: 'Was on', now: 'Goes on', end: 'End' },
    same: 'same place', leftOff: 'stays off: insulate and tie back', jumper: 'jumper to make', bare: 'stays bare',
    cautions: 'Eye protection, no jewellery near the battery. Each interlock is tested before the machine is released. The maker’s figures and procedures come first, local codes and licensed practice too.',
    notSigned: 'Signed off by ______________________  on ______________',
    signed: (by: string, at: string): string => `Signed off by ${by}, ${at}.`,
    lapsed: (by: string, at: string): string => `Was signed off by ${by}, ${at}; wires, choice or ticks have changed since: it must be signed off anew.`,
    ticked: (by: string, at: string): string => `${by === '' ? 'no name' : by}, ${at}`,
    marks: { open: 'open', done: 'done', bad: 'went wrong' },
    stillOpen: 'Cannot be signed off yet',
  },
} as const;
