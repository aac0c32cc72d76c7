/** The way back of `readProgression`: writing, reading and writing again changes nothing. */
import { keyText } from '$lib/theory/spelling';
import { divisor, metreOfPart } from './fractions';
import { melodyNoteText } from './melody';
import { DEFAULT_METRE, type Bar, type Metre, type Progression, type Slot } from './progression';

const BARS_A_LINE = 4;

function slotText({ chord, share, melody }: Slot, unit: number): string {
  const symbol = chord === 'no chord' ? 'N.C.' : chord.symbol;
  const note = melody === undefined ? '' : `:${melodyNoteText(melody)}`;
  return symbol + note + ' .'.repeat(share / unit - 1);
}

/** The chords of a bar, each held on for the shares beyond its first. */
export function barText({ slots }: Bar): string {
  const unit = slots.reduce((common, { share }) => divisor(common, share), 0);
  return slots.map((slot) => slotText(slot, unit)).join(' ');
}

const metreText = ({ beats, unit }: Metre): string => `${beats}/${unit}`;

/** A progression as text, four bars a line, melody notes behind their chords. */
export function writeProgression(progression: Progression): string {
  const { title, key, tempo, metre, bars } = progression;
  const lines: string[] = [];
  if (title !== undefined) lines.push(`title: ${title}`);
  if (key !== undefined) lines.push(`key: ${keyText(key)}`);
  if (tempo !== undefined) lines.push(`tempo: ${String(tempo)}`);
  if (metre !== undefined || bars.some(({ part }) => part !== undefined))
    lines.push(`metre: ${metreText(metre ?? DEFAULT_METRE)}`);
  let line: string[] = [];
  const endLine = (): void => {
    if (line.length > 0) lines.push(line.join(' | '));
    line = [];
  };
  let now = 1;
  for (const [at, bar] of bars.entries()) {
    const { part = 1 } = bar;
    if (part !== now) {
      endLine();
      const text = metreText(metreOfPart(metre ?? DEFAULT_METRE, part));
      lines.push(at === 0 && part < 1 ? `pickup: ${text}` : `metre: ${text}`);
    }
    // after a pickup the piece's metre holds by itself
    now = at === 0 && part < 1 ? 1 : part;
    if (bar.section !== undefined || line.length === BARS_A_LINE) endLine();
    if (bar.section !== undefined) lines.push(`[${bar.section}]`);
    line.push(barText(bar));
  }
  endLine();
  return lines.map((each) => `${each}\n`).join('');
}
