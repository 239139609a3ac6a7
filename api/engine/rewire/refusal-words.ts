import type { RefusalCode } from '../../../catalog-schema/index.ts';
import type { PartNames } from './circuit-shape.ts';
import type { Trouble } from './explain.ts';
import { FIRST_PART_NODE, type JudgedState, type MachineSide, type MachineWire, type Role } from './machine-side.ts';
import { nameCoil, nameNode, type PartSide } from './part-side.ts';
import type { Jumper } from './jumper-sets.ts';
import { nameJumper } from './search.ts';
import { LEFT_OFF } from './wire-places.ts';

/** The worst first: what melts, then what hurts, then what does not work. */
export const REFUSAL_ORDER: readonly RefusalCode[] = [
  'wire-not-traced', 'shorts-a-wire', 'defeats-interlock', 'starter-always-live', 'always-pulled-in', 'latches', 'back-feeds', 'over-fuse',
  'polarity', 'chatters', 'never-pulls-in', 'cranking-feed-lost', 'no-terminal',
];

/** What would happen, in words, with the amps. */
export function describeTrouble(machine: MachineSide, part: PartSide, names: PartNames, to: ArrayLike<number>, trouble: Trouble): string {
  const { state } = trouble;
  const coil = trouble.coil === undefined ? undefined : { ...part.coils[trouble.coil]!, id: names.coils[trouble.coil]!.id };
  const when = describeState(machine, state);
  const gets = coil === undefined ? 'the contact has no coil' : `${nameCoil(coil.id)} would get ${volts(trouble.volts)}`;
  switch (trouble.code) {
    case 'shorts-a-wire':
      return `${place(machine, names, to, trouble.overloaded!)} would carry about ${amps(trouble.amps)} ${when}: a short `
        + `${trouble.throughContact ? 'through the contact that the relay closes, past its coil' : 'past the coil'} (the wire bears ${amps(trouble.limitA)}).`;
    case 'over-fuse':
      return `${place(machine, names, to, trouble.overloaded!)} would carry ${amps(trouble.amps)} ${when}, through the coil; it bears ${amps(trouble.limitA)}.`;
    case 'polarity':
      return trouble.overloaded === undefined
        ? `${when}, ${gets}, and needs ${volts(coil?.pullInV)}: the part's diode stands the wrong way round for these wires, plus and minus of the coil must change places.`
        : `${place(machine, names, to, trouble.overloaded)} would carry about ${amps(trouble.amps)} ${when}, through the part's diode, which stands the wrong way round for these wires.`;
    case 'defeats-interlock':
      return `${when} the starter would ${trouble.amps! > 1 ? `still be fed (${amps(trouble.amps)})` : 'not be sure to stop'}: ${gets}, the interlocks no longer stop it. `
        + 'Someone can be hurt; this is refused, it is no adaptation.';
    case 'starter-always-live':
      return `${when} the starter would be joined to the battery whatever the relay does: about ${amps(trouble.amps)} as soon as the battery is on.`;
    case 'always-pulled-in':
      return `${when} ${gets}: the relay pulls in as soon as the battery is on${trouble.amps! > 1 ? `, the starter takes ${amps(trouble.amps)}` : ''}.`;
    case 'latches':
      return trouble.fromIn
        ? `Once in, the relay would not be sure to let go: ${when} ${gets}, and lets go at ${volts(coil?.dropOutV)} or less${trouble.amps! > 1 ? `; the starter would run on (${amps(trouble.amps)})` : ''}.`
        : `${when} ${gets}, above the ${volts(coil?.dropOutV)} at which it is sure to let go.`;
    case 'chatters':
      return `${when} the relay would go in and out for ever (rapid clicks): once in, ${gets}.`;
    case 'back-feeds':
      return `${when} the cranking feed, live from elsewhere, would work the relay backwards: ${gets}${trouble.amps! > 1 ? `, and the starter ${amps(trouble.amps)}` : ''}.`;
    case 'cranking-feed-lost':
      return state.wantedIn
        ? `${when} the cranking feed would be dead: the part has to make it live while it cranks.`
        : `${when} the cranking feed would be live though the starter is not.`;
    case 'never-pulls-in':
      return coil === undefined ? `${when} nothing would close the contact: it has no coil.` : `${when} ${gets} and needs ${volts(coil.pullInV)}: the starter stays dead.`;
    case 'no-terminal': case 'wire-not-traced': throw new Error(`describeTrouble: ${trouble.code} is not a trouble of a state`);
    default: return refuseCode(trouble.code);
  }
}

/** 'wire W3 (interlocked return) on I'. */
function place(machine: MachineSide, names: PartNames, to: ArrayLike<number>, overloaded: MachineWire | Jumper): string {
  if (!('tag' in overloaded)) {
    const { from, to: end } = nameJumper(names, overloaded);
    return `the jumper from ${from} to ${end}`;
  }
  const wire = overloaded;
  const at = to[machine.wires.indexOf(wire)]!;
  return `wire ${describeWire(wire)}${at === LEFT_OFF ? ', left off,' : ` on ${nameNode(names, FIRST_PART_NODE + at)}`}`;
}

export function describeWire(wire: MachineWire): string {
  return `${wire.tag} (${[...(wire.colour === undefined ? [] : [wire.colour]), ROLE_WORDS[wire.role]].join(', ')})`;
}

const ROLE_WORDS: Readonly<Record<Role, string>> = {
  battery: 'battery', starter: 'starter', 'start-switch': 'start switch', chassis: 'chassis', 'interlocked-return': 'interlocked return',
  'cranking-feed': 'cranking feed', tap: 'battery tap',
};

function describeState(machine: MachineSide, state: JudgedState): string {
  const interlocks = machine.interlocks === 'none' ? '' : state.interlocks ? ' and every interlock satisfied' : ' and an interlock open';
  if (state.engineRuns) return `with the engine running, the start switch off${interlocks}`;
  return `with the start switch ${state.startSwitch ? 'on' : 'off'}${interlocks}`;
}

function amps(value: number | undefined): string {
  return `${round(value ?? 0)} A`;
}

function volts(value: number | undefined): string {
  return `${Math.abs(value ?? 0) < 0.001 ? 0 : round(value ?? 0)} V`;
}

function round(value: number): number {
  return Math.abs(value) < 1e-6 ? 0 : Number(Math.abs(value).toPrecision(3));
}

function refuseCode(code: never): never {
  throw new TypeError(`unknown refusal ${JSON.stringify(code)}`);
}
