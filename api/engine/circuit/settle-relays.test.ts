import { describe, expect, it } from 'vitest';
import { settleRelays, type NetworkElement, type RelayContact, type RelayNetwork } from './index.ts';

const battery: NetworkElement = { kind: 'source', minus: '0', plus: 'b', emfV: 12, ohm: 0.01 };
const coil = (a: string, b: string, ohm = 4) => ({ between: [a, b] as const, ohm, pullInV: 8.4, dropOutV: 1.2 });
const heavy: RelayContact = { kind: 'relay-contact', between: ['b', 's'], form: 'NO', plunger: 'k' };
const starter: NetworkElement = { kind: 'resistor', between: ['s', '0'], ohm: 0.05 };

function relay(elements: (NetworkElement | RelayContact)[], coils = [coil('c', '0')]): RelayNetwork {
  return { ground: '0', elements: [battery, heavy, starter, ...elements], plungers: [{ id: 'k', coils }] };
}

describe('settling relays', () => {
  it('pulls in with its coil on the battery, and feeds the starter', () => {
    const end = settleRelays(relay([{ kind: 'wire', between: ['b', 'c'] }]));
    expect(end.kind === 'settled' && end.pulledIn).toEqual(['k']);
    expect(end.kind === 'settled' && end.solution.amps[2]).toBeCloseTo(198, 0);
  });

  it('lets go when the feed opens', () => {
    const end = settleRelays(relay([]), ['k']);
    expect(end.kind === 'settled' && end.pulledIn).toEqual([]);
  });

  it('stays in between drop-out and pull-in, but does not go in there', () => {
    const half = relay([{ kind: 'resistor', between: ['b', 'c'], ohm: 4 }]);
    expect(settleRelays(half)).toMatchObject({ kind: 'settled', pulledIn: [] });
    expect(settleRelays(half, ['k'])).toMatchObject({ kind: 'settled', pulledIn: ['k'] });
  });

  it('says that a relay which shorts its own supply chatters, with the cycle', () => {
    const end = settleRelays(relay([{ kind: 'wire', between: ['b', 'c'] }, { kind: 'wire', between: ['s', '0'] }]));
    expect(end.kind).toBe('chatters');
    expect(end.kind === 'chatters' && end.cycle.map((c) => c.pulledIn)).toEqual([[], ['k']]);
  });

  it('buzzes through its own NC contact', () => {
    const end = settleRelays(relay([{ kind: 'relay-contact', between: ['b', 'c'], form: 'NC', plunger: 'k' }]));
    expect(end.kind).toBe('chatters');
  });

  it('lets a shift solenoid go: on release its windings are in series and oppose', () => {
    const solenoid = (ohmPull: number, ohmHold: number) => relay([], [coil('start', 's', ohmPull), coil('start', '0', ohmHold)]);
    expect(settleRelays(solenoid(0.3, 1.2), ['k'])).toMatchObject({ kind: 'settled', pulledIn: [] });
    // The twin whose hold-in winding is drawn the other way round adds its turns and holds itself in.
    const turned = relay([], [coil('start', 's', 0.3), coil('0', 'start', 1.2)]);
    expect(settleRelays(turned, ['k'])).toMatchObject({ kind: 'settled', pulledIn: ['k'] });
  });

  it('pulls in only when every coil of the plunger has its voltage', () => {
    const both = relay([{ kind: 'wire', between: ['b', 'c'] }], [coil('c', '0'), coil('d', '0')]);
    expect(settleRelays(both)).toMatchObject({ kind: 'settled', pulledIn: [] });
  });

  it('never moves a plunger without coils', () => {
    expect(settleRelays(relay([], []), ['k'])).toMatchObject({ kind: 'settled', pulledIn: [] });
  });
});
