import type { LeadsTo, Part, WireEnd } from '../../catalog-schema/index.ts';
import type { Draws } from '../sim-identify/random.ts';
import { SEALINGS } from './draw-part.ts';
import { heavyContactOf } from './judge-wiring.ts';
import { Oracle } from './oracle.ts';
import { THREAD_MM } from './threads-known.ts';
import type { Machine, TruePart, TrueWire, World } from './truth.ts';

// A machine that the removed part worked on. Its demands are drawn so that the removed part meets them, by much or by little.

const FUSES_A = [1, 2, 3, 5, 7.5, 10, 15, 20, 25, 30, 40, 60, 80] as const;
const COPPER_PER_K = 0.00393;
const COPPER_CONDUCTIVITY = 58;
const TRIES = 40;

/** Draws until the oracle agrees that the removed part works; a part that can serve no machine gives way to another. */
export function drawMachine(world: World, draws: Draws): Machine {
  const ordinary = world.parts.filter(({ trap }) => trap === undefined || trap === 'stud' || trap === 'tab' || trap === 'bracket');
  for (;;) {
    const old = draws.pick(ordinary);
    for (let i = 0; i < TRIES; i++) {
      const machine = tryMachine(old, draws);
      if (machine && new Oracle(machine, world.prices).judge(old.truth).broken.length === 0) return machine;
    }
  }
}

function tryMachine(old: TruePart, draws: Draws): Machine | undefined {
  const part = old.truth;
  const { nominalV } = part.partClass === 'starter-motor' ? { nominalV: part.starter!.nominalV! } : part.circuit.find((element) => element.kind === 'coil')!;
  const heavy = heavyContactOf(part);
  const ambient = { min: Math.max(part.ambientC!.min, draws.pick([-30, -25, -20, -15, -10, 0])), max: Math.min(part.ambientC!.max, draws.pick([35, 40, 45, 55])) };
  const highestV = nominalV * draws.between(1.15, 1.25);
  const wires = drawWires(part, draws);
  const relies = part.mounting!.conductive === true && ['case-return', 'cranking-feed'].includes(formOf(part));
  const amps = coldAmps(part, highestV, ambient.min);
  const fuseA = FUSES_A.find((fuse) => fuse >= amps * draws.between(1.15, 2.2)) ?? 100;
  const inrush = heavy?.inrushA === undefined ? { inrushA: 0 } : drawInrush(draws, nominalV, heavy.inrushA * draws.between(0.5, 0.95), part.partClass === 'plug-in-relay');
  if (!inrush) return undefined;
  const duty = part.circuit.flatMap((element) => (element.kind === 'coil' ? [element.duty!] : []))[0];
  const continuousUse = duty?.type === 'continuous' && draws.chance(part.partClass === 'contactor' ? 0.5 : 0.1);
  const longest = duty?.type === 'intermittent' ? duty.maxOnS! : 60;
  const { body } = part;
  const boltMm = Math.max(...[4, 4.826, 5, 6, 6.35, 8, 10].filter((mm) => mm <= Math.min(...part.mounting!.holes.map(({ diameterMm }) => diameterMm)) - 0.4));
  return {
    old, partClass: part.partClass, nominalV, wires: wires.list, interlocks: wires.interlocks,
    restingV: nominalV * draws.between(0.96, 1.05), crankingV: nominalV * draws.between(0.62, 0.8), highestV, ambient, coilRiseK: draws.between(25, 50),
    controlOhm: draws.chance(0.6) ? draws.between(0.02, 0.12) : draws.between(0.1, 0.4) * Math.min(1, 2 / Math.max(amps, 0.5)),
    fuseA, contactA: FUSES_A.find((fuse) => fuse >= fuseA * draws.pick([0.9, 1, 1.3]))!,
    ...inrush, continuousA: (heavy?.continuousA ?? 0) * draws.between(0.4, 0.95), onS: Math.max(3, Math.round(Math.min(longest, 60) * draws.between(0.3, 1))), continuousUse,
    minSealing: draws.pick(SEALINGS.filter((code) => code[2]! <= part.sealing![2]! && (code === part.sealing || code[3]! < '5'))),
    // In tenths: bodies are whole millimetres, and one exactly as large as its room no instrument can tell from one too large.
    room: { lengthMm: roundTo(body!.lengthMm + draws.between(2, 40)), widthMm: roundTo(body!.widthMm + draws.between(2, 40)), heightMm: roundTo(body!.heightMm + draws.between(1, 30)) },
    ...drawBolts(part, boltMm, draws), boltMm, panelHoleMm: Math.round(10 * (boltMm + draws.between(0.3, 0.8))) / 10, panelDrillable: draws.chance(0.3),
    panelGrounded: relies || part.partClass === 'shift-solenoid' || part.partClass === 'starter-motor' ? true : draws.chance(0.7),
    ...(part.starter && { starter: { ...part.starter, powerKw: Math.round(100 * part.starter.powerKw! * draws.between(0.8, 1)) / 100 } }),
  };
}

function roundTo(mm: number): number {
  return Math.round(10 * mm) / 10;
}

function formOf(part: Part): string {
  const coil = part.circuit.find((element) => element.kind === 'coil');
  if (!coil) return 'none';
  if (part.partClass === 'shift-solenoid') return 'shift-solenoid';
  if (part.circuit.filter((element) => element.kind === 'contact' && element.form === 'NO').length > 1) return 'cranking-feed';
  return coil.between.includes('case') ? 'case-return' : 'isolated';
}

/** The panel's own axes: the bracket lies turned and shifted in them, its bolts somewhere in the slots. */
function drawBolts(part: Part, boltMm: number, draws: Draws): { bolts: Machine['bolts'] } {
  const turn = draws.chance(0.7) ? draws.pick([0, 90, 180, 270]) * Math.PI / 180 : draws.between(-Math.PI, Math.PI);
  const [x, y] = [draws.between(-30, 30), draws.between(-30, 30)];
  const used = draws.chance(0.85) ? part.mounting!.holes : part.mounting!.holes.slice(0, 2);
  return { bolts: used.map((hole) => {
    const slot = (hole.slotMm ?? 0) / 2 * draws.between(-0.9, 0.9);
    const angle = (hole.slotAngleDeg ?? 0) * Math.PI / 180;
    const play = (hole.diameterMm - boltMm) / 2 * draws.between(0, 0.6);
    const away = draws.between(0, 2 * Math.PI);
    const [px, py] = [hole.xMm + slot * Math.cos(angle) + play * Math.cos(away), hole.yMm + slot * Math.sin(angle) + play * Math.sin(away)];
    return { x: x + Math.cos(turn) * px - Math.sin(turn) * py, y: y + Math.sin(turn) * px + Math.cos(turn) * py };
  }) };
}

function coldAmps(part: Part, volts: number, coldC: number): number {
  const heavy = heavyContactOf(part);
  return part.circuit.reduce((sum, element) => {
    if (element.kind === 'resistor') return sum + volts / element.ohm;
    if (element.kind !== 'coil' || element.between.some((node) => heavy?.between.includes(node))) return sum;
    return sum + volts / (element.ohmAt20C! * (1 + COPPER_PER_K * (coldC - 20)));
  }, 0);
}

/** The current the contact closes on, from battery, cable and a starter standing still; a small load's from itself. */
function drawInrush(draws: Draws, nominalV: number, inrushA: number, small: boolean): Pick<Machine, 'inrushA' | 'source'> | undefined {
  if (small) return { inrushA };
  const restingV = nominalV * draws.between(1.03, 1.07);
  const batteryCcaA = Math.round(draws.between(1.3, 3.5) * inrushA / 10) * 10;
  const cable = { areaMm2: draws.pick([16, 25, 35, 50]), lengthMm: Math.round(draws.between(400, 2500)) };
  // Between half and all of what its cold-cranking rating allows (SAE J537), and cable with its joints.
  const battery = (restingV - 0.6 * nominalV) / batteryCcaA * draws.between(0.45, 1);
  const cableOhm = cable.lengthMm / 1000 / (COPPER_CONDUCTIVITY * cable.areaMm2) * draws.between(1, 1.12);
  const starterOhm = restingV / inrushA - battery - cableOhm;
  return starterOhm < 0.002 ? undefined : { inrushA, source: { batteryCcaA, restingV, cable, starterOhm } };
}

function drawWires(part: Part, draws: Draws): { list: TrueWire[]; interlocks: Machine['interlocks'] } {
  const tags = draws.shuffle(['1', '2', '3', '4', '5', '6']);
  const list: TrueWire[] = [];
  const hang = (goal: Exclude<LeadsTo, 'unknown'>, wasOn: string, areaMm2: number): void => {
    list.push({ tag: tags[list.length]!, goal, wasOn, areaMm2, end: drawEnd(part, wasOn, draws) });
  };
  const [first, second, third, fourth] = part.terminals.map(({ id }) => id);
  const form = formOf(part);
  if (part.partClass === 'starter-motor') {
    if (form === 'none') {
      hang('start-switch', first!, 25);
      return { list, interlocks: 'in-feed' };
    }
    hang('battery', first!, 25);
    hang('start-switch', second!, 2.5);
    if (draws.chance(0.4)) hang('tap', first!, 6);
    return { list, interlocks: draws.pick(['in-feed', 'in-feed', 'none']) };
  }
  hang('battery', first!, 25);
  hang('starter', second!, 25);
  hang('start-switch', third!, 1.5);
  if (draws.chance(0.3)) hang('tap', first!, 6);
  if (form === 'isolated') {
    const inReturn = draws.chance(0.65);
    hang(inReturn ? 'interlocked-return' : 'chassis', fourth!, 1.5);
    return { list, interlocks: inReturn ? draws.pick(['in-return', 'in-return', 'both']) : draws.pick(['in-feed', 'in-feed', 'none']) };
  }
  if (form === 'cranking-feed') hang('cranking-feed', fourth!, 1.5);
  if (form === 'case-return' && draws.chance(0.15)) hang('chassis', 'case', 2.5);
  return { list, interlocks: draws.pick(['in-feed', 'in-feed', 'in-feed', 'none']) };
}

function drawEnd(part: Part, wasOn: string, draws: Draws): WireEnd {
  const terminal = part.terminals.find(({ id }) => id === wasOn);
  if (!terminal) return { form: 'ring', holeMm: draws.pick([5.3, 6.4]) };
  switch (terminal.form) {
    case 'stud': case 'screw': return { form: 'ring', holeMm: Math.round(10 * (THREAD_MM[terminal.thread!]! + draws.between(0.2, 0.7))) / 10 };
    case 'tab': return { form: 'receptacle', tabWidthMm: terminal.tabWidthMm! };
    case 'lead': case 'pin': return { form: 'bare' };
    default: throw new Error(`terminal form ${String(terminal.form satisfies never)} is not known`);
  }
}
