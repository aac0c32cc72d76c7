/** How the trade writes a string's gauge. */
import type { SetupString } from './setup';

/** A diameter in inches: `.013`, `.0115`. */
export const inchesText = (inches: number): string =>
  inches.toFixed(4).replace(/0$/, '').replace(/^0\./, '.');

/** `.011`, `.036w` where it is wound; empty where no gauge is entered. */
export const gaugeText = ({ gauge, wound = false }: Pick<SetupString, 'gauge' | 'wound'>): string =>
  gauge === undefined ? '' : `${inchesText(gauge)}${wound ? 'w' : ''}`;
