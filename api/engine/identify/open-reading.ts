import { describeSetting, settingOf, type SettingName } from '../settings.ts';
import { roundMicro } from './posterior.ts';
import type { Said } from './said.ts';

/** Puts a reading not taken on the list when it tells more, in bits, than it is a bother to take. */
export function pushOpen(said: Said, what: string, why: string, bits: number, bother: SettingName): void {
  const worth = roundMicro(bits - settingOf(bother));
  if (worth <= 0) return;
  said.assumptions.add(describeSetting(bother));
  said.open.push({ what, why: `${why}.`.replace(/\.\.$/, '.'), worth });
}
