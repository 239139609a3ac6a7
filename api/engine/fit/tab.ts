import type { BenchRecord, KitItem, Part } from '../../../catalog-schema/index.ts';
import type { PlanOutline } from '../rewire/index.ts';
import { settingOf } from '../settings.ts';
import { askMaker, show, worstOf, type Finding, type Notes, type Outcome, type Reading } from './finding.ts';
import { doubtOfWires } from './wiring.ts';

/** Whether the receptacles sit tight on the tabs they come to: 4.8 and 6.3 mm interchange badly. Left out where no wire comes to a tab. */
export function checkTab(record: BenchRecord, part: Part, plan: PlanOutline | null, notes: Notes): Finding | null {
  const wires = record.wires ?? [];
  const tabs = part.terminals.filter(({ form }) => form === 'tab');
  const receptacles = wires.flatMap(({ tag, end }) => (end?.form === 'receptacle' ? [`${tag} receptacle ${show(end.tabWidthMm)} mm`] : []));
  const offered = tabs.length === 0 ? 'no tab' : [...new Set(tabs.map(({ tabWidthMm }) => (tabWidthMm === undefined ? 'width not given' : `${show(tabWidthMm)} mm`)))].join(', ');
  const needed = receptacles.length === 0 ? 'ends not recorded' : receptacles.join(', ');
  if (!plan) {
    if (receptacles.length === 0 || tabs.length === 0) return null;
    return { criterion: 'tab', outcome: 'unknown', needed, offered, why: 'which wire goes on which tab is not known', ...doubtOfWires(record) };
  }
  notes.use('tabWidthMm');
  const judged: { outcome: Outcome; why: string; reading?: Reading; kit?: KitItem }[] = [];
  for (const { tag, to, newEnd } of plan.wires) {
    const tab = tabs.find(({ id }) => id === to);
    const end = wires.find((wire) => wire.tag === tag)?.end;
    if (!tab) continue;
    if (newEnd) judged.push({ outcome: 'work', why: `wire ${tag} gets a new receptacle for tab ${to}` });
    else if (!end) judged.push({ outcome: 'unknown', why: `the end of wire ${tag} is not recorded`, reading: { what: `receptacle of wire ${tag}: the width of its tab`, from: 'bench' } });
    else if (tab.tabWidthMm === undefined) judged.push({ outcome: 'unknown', why: `the width of tab ${to} is not given`, reading: askMaker('tab width', part) });
    else if (end.form === 'receptacle' && Math.abs(end.tabWidthMm - tab.tabWidthMm) <= settingOf('tabWidthMm') + 1e-9) {
      judged.push({ outcome: 'pass', why: `receptacle ${show(end.tabWidthMm)} mm of wire ${tag} on a ${show(tab.tabWidthMm)} mm tab` });
    } else judged.push({ outcome: 'work', why: `wire ${tag} does not sit tight on the ${show(tab.tabWidthMm)} mm tab ${to}: new receptacle` });
  }
  if (judged.length === 0) return null;
  const outcome = worstOf(judged.map((each) => each.outcome));
  const telling = outcome === 'pass' ? judged : judged.filter((each) => each.outcome !== 'pass');
  return {
    criterion: 'tab', outcome, needed, offered, why: telling.map(({ why }) => why).join('; '),
    fromSetting: 'endHolds', readings: judged.flatMap(({ reading }) => (reading ? [reading] : [])),
  };
}
