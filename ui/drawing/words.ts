import type { LeadsTo } from '../../catalog-schema/index.ts';

/** Where a wire leads, as a mechanic says it; short enough for two lines of a label. */
const LEADS: Readonly<Record<LeadsTo, string>> = {
  battery: 'battery',
  starter: 'starter',
  'start-switch': 'start switch',
  chassis: 'chassis',
  'interlocked-return': 'interlock return',
  'cranking-feed': 'cranking feed',
  tap: 'take-off',
  unknown: 'not traced',
};

/** Every word the drawings show or speak, in one table. */
export const DRAWING_WORDS = {
  leads: LEADS,
  forms: { stud: 'stud', tab: 'tab', screw: 'screw', lead: 'lead', pin: 'pin' },
  case: 'case',
  chassis: 'chassis',
  caseSpoken: 'case, the metal body and bracket',
  nothingYet: 'No terminals yet. Count the studs and tabs on the part and add each one.',
  toScale: 'to scale',
  notToScale: 'not to scale: places not measured',
  partlyToScale: 'sizes to scale, places not measured',
  bracketSide: 'bracket this side',
  stamped: (marking: string) => `stamped ${marking}`,
  noColour: '?',
  wireSpoken: (tag: string, letters: string, colour: string, leads: string) =>
    `wire ${[tag, letters].filter(Boolean).join(' ')}, ${colour}, to ${leads}`,
  terminalSpoken: (shown: string, form: string, wires: string) => `${shown}, ${form}, ${wires || 'no wire'}`,
  faceSpoken: (count: number) => `Terminal face, bracket down, ${count} ${count === 1 ? 'terminal' : 'terminals'}`,
  old: 'old',
  new: 'new',
  oldPart: 'old part',
  newPart: 'new part',
  bolt: 'bolt',
  newHole: (diameter: string, where: string) => `drill ${diameter} in ${where}`,
  panel: 'the panel',
  bracketWord: 'the bracket',
  turned: (deg: string) => `turned ${deg}`,
  turnedOver: 'turned over: the body sits behind the panel',
  asItStands: 'as it stands, not turned',
  faceOver: 'grey: the old part’s terminals; ink: the new part’s; both seen with the bracket down',
  faceTurned: 'the part itself sits turned on the panel, as below',
  allStay: 'every wire keeps its place',
  wayOf: (wire: string, from: string, to: string) => `wire ${wire} moves from ${from} to ${to}`,
  goesElsewhere: (wire: string, to: string) => `wire ${wire} goes to ${to}`,
  staysOff: (wire: string) => `wire ${wire} stays off`,
  greyUnderInk: 'grey: what came off and its bolts; ink: what goes on',
  outlineTaken: 'dashed outline: drawn round the holes, not measured',
  noPlacement: 'No way was found for these bolts to pass. Both are drawn centre on centre.',
  noBolts: 'Where the machine’s bolts are is not recorded yet: only the new bracket is drawn.',
  noHoles: 'The new part’s holes are not in the catalogue: only the machine’s bolts are drawn.',
  stays: 'stays',
  moves: 'moves',
  newEnd: 'new end',
  movesTo: (id: string) => `move to ${id}`,
  jumperFromTo: (from: string, to: string) => `make a jumper ${from} to ${to}`,
  leftOff: 'left off: insulate and tie back',
  leftOffShort: 'leave off, insulate',
  bare: 'stays bare',
  wiringSpoken: 'Wires from the old part to the new',
  wiringMove: (wire: string, from: string, to: string, how: string) => `${wire}, from ${from} to ${to}, ${how}`,
  stack: {
    seat: 'body',
    innerNut: 'inner nut: hold it still',
    lug: (tag: string) => `lug of wire ${tag}`,
    jumperLug: 'lug of the jumper',
    washer: 'washer, outside the lugs',
    spring: 'spring washer, where there is one',
    outerNut: 'outer nut: turn this one',
    screwHead: 'screw head',
    tab: 'tab',
    receptacle: (tag: string) => `receptacle of wire ${tag}: push home, then pull to test`,
    bareEnd: (tag: string) => `bare end of wire ${tag}: clamp or join it as the maker says`,
    torque: (text: string) => `tighten to ${text}`,
    never: 'never a washer between lug and seat',
    empty: 'Nothing goes on this terminal.',
  },
  state: {
    start: 'START', interlocks: 'interlocks', relay: 'relay', starter: 'starter', contact: 'contact', feed: 'cranking feed',
    held: 'held', letGo: 'let go', made: 'made', open: 'open', pulledIn: (amps: string) => `in, ${amps} A`, out: 'out', cranks: 'turns', still: 'still',
    closed: 'closed', opened: 'open', live: 'live', dead: 'dead', fromEngine: 'live from the engine', engineRuns: 'engine runs',
  },
  /** the cranking circuit: names in the lines that the drawing has room for */
  crank: {
    battery: ['battery'], posts: ['posts,', 'clamps'], batteryCable: ['battery', 'cable'], contacts: ['contacts'], startCable: ['starter', 'cable'], coil: ['coil'], feed: ['feed'],
    return: ['return'], starter: ['starter'], engine: ['engine'], ground: ['chassis and ground'], interlock: ['safety', 'switch'], startHeld: ['START', 'held'], startOff: ['START', 'off'],
    spoken: (switchAt: string) => `Cranking circuit, ${switchAt}. Each point can be touched with the meter.`,
    pointSpoken: (name: string, probe: string) => (probe === '' ? name : `${name}, ${probe}`),
    startSpoken: 'Start switch held in START', held: 'START held', off: 'start switch off', plusProbe: 'red probe', minusProbe: 'black probe', red: 'red', black: 'black',
  },
  circuitElement: (what: string, from: string, to: string) => `${what}, between ${from} and ${to}`,
  circuit: {
    coil: 'coil', contact: 'contact', diode: 'diode', resistor: 'resistor', motor: 'motor',
    atRest: 'at rest', pulledIn: 'pulled in', open: 'open', closed: 'closed', live: 'live',
  },
} as const;

/** A length in millimetres for a drawing: at most one decimal, no unit. */
export function sayMm(mm: number): string {
  return String(Math.round(mm * 10) / 10);
}

/** How a drawing writes a length: millimetres, or inches to the thousandth when the shop is set to inches. */
export function sayLength(mm: number, units: 'mm' | 'inch' = 'mm'): string {
  return units === 'mm' ? `${sayMm(mm)} mm` : `${(mm / 25.4).toFixed(3).replace(/0+$/, '').replace(/\.$/, '')} in`;
}

/** A terminal's name as it is drawn: a hyphen that stands for minus is set as one. */
export function sayId(id: string): string {
  return id === '-' ? '\u2212' : id;
}
