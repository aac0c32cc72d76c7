/** The delay from loudspeaker to microphone, kept on this device once it was measured or entered. */
import { storedSetting, storeSetting } from './setting';

const SETTING = 'delay';
/** The longest that is believed, in milliseconds. */
const LONGEST_MS = 500;

/** The delay that is kept, in milliseconds; nothing where none is. */
export function keptDelay(): number | undefined {
  const text = storedSetting(SETTING);
  return text === '' ? undefined : delayIn(text);
}

/** A delay as somebody writes it; nothing where it is none from 0 to 500. */
export function delayIn(text: string): number | undefined {
  const ms = Number(text.trim().replace(',', '.'));
  return text.trim() !== '' && ms >= 0 && ms <= LONGEST_MS ? ms : undefined;
}

/** Keeps a delay, in milliseconds. */
export const keepDelay = (ms: number): void =>
  storeSetting(SETTING, String(Math.round(ms * 10) / 10));
