/**
 * A string's wire as a player writes it: `.013` or `13` (thousandths of an inch), `.036w` where it is
 * wound, `.036w/.016` where its core is known. Empty where nothing is known.
 */
import { ok, refuse, type Result } from '$lib/result';
import { gaugeText, inchesText } from '../gaugeText';
import type { SetupString } from '../setup';
import { BOUNDS } from '../bounds';

export type Wire = Pick<SetupString, 'gauge' | 'wound' | 'coreGauge'>;

/** As `readWire` takes it. */
export const wireText = ({ coreGauge, ...string }: Wire): string =>
  gaugeText(string) + (coreGauge === undefined ? '' : `/${inchesText(coreGauge)}`);

const [LEAST, MOST] = BOUNDS.gauge;

function inchesOf(text: string): Result<number, string> {
  if (!/^(\d+|\d*\.\d+)$/.test(text))
    return refuse(`“${text}” is no gauge; write one such as .013, .036w or .036w/.016.`);
  // nobody strings an instrument with wire of four inches: whole numbers are thousandths
  const inches = text.includes('.') ? Number(text) : Number(text) / 1000;
  return inches >= LEAST && inches <= MOST
    ? ok(inches)
    : refuse(`A gauge lies between ${inchesText(LEAST)} and ${inchesText(MOST)} inches.`);
}

/**
 * Reads a string's wire: `.036w/.016`, in inches; without a point, thousandths of an inch. Nothing is known
 * where the text is empty; what is no gauge, or out of bounds, is refused with a sentence.
 */
export function readWire(text: string): Result<Wire, string> {
  const plain = text.replace(/["″\s]/g, '').toLowerCase();
  if (plain === '') return ok({});
  const match = /^([^w/]*)(w?)(?:\/(.+))?$/.exec(plain);
  if (match === null)
    return refuse(`“${text}” is no gauge; write one such as .013, .036w or .036w/.016.`);
  const [, size = '', wound = '', core] = match;
  const gauge = size === '' ? ok(undefined) : inchesOf(size);
  if (!gauge.ok) return gauge;
  const coreGauge = core === undefined ? ok(undefined) : inchesOf(core);
  if (!coreGauge.ok) return coreGauge;
  if (coreGauge.value !== undefined && wound === '')
    return refuse('Only a wound string has a core; write it such as .036w/.016.');
  if (coreGauge.value !== undefined && gauge.value !== undefined && coreGauge.value >= gauge.value)
    return refuse('The core of a wound string is thinner than the string.');
  return ok({
    ...(gauge.value === undefined ? {} : { gauge: gauge.value }),
    ...(wound === '' ? {} : { wound: true }),
    ...(coreGauge.value === undefined ? {} : { coreGauge: coreGauge.value }),
  });
}
