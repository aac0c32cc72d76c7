/** A progression as ChordPro 6: bars in a grid, one for each section. */
import { keyText } from '$lib/theory/spelling';
import { keyOf } from '$lib/arrange/findKey';
import { DEFAULT_METRE, type Bar, type Progression } from '$lib/arrange/progression';
import { barText } from '$lib/arrange/writeText';

const BARS_A_LINE = 4;

/** A directive is a line of its own and ends with a brace. */
const plain = (text: string): string => text.replace(/[\r\n{}]+/gu, ' ').trim();

const withoutMelody = ({ slots }: Bar): Bar => ({
  slots: slots.map(({ chord, share }) => ({ chord, share })),
});

/** The text of a song sheet: the head, then the chords in grids. */
export function writeChordPro(progression: Progression): string {
  const { title, tempo, metre = DEFAULT_METRE, bars } = progression;
  const lines = [
    `{title: ${plain(title ?? 'Progression')}}`,
    `{key: ${keyText(keyOf(progression))}}`,
    ...(tempo === undefined ? [] : [`{tempo: ${String(tempo)}}`]),
    `{time: ${metre.beats}/${metre.unit}}`,
  ];
  let line: string[] = [];
  let open = false;
  const endLine = (): void => {
    if (line.length > 0) lines.push(`| ${line.join(' | ')} |`);
    line = [];
  };
  for (const bar of bars) {
    if (!open || bar.section !== undefined) {
      endLine();
      if (open) lines.push('{end_of_grid}');
      const name = plain(bar.section ?? '');
      lines.push(name === '' ? '{start_of_grid}' : `{start_of_grid: ${name}}`);
      open = true;
    }
    line.push(barText(withoutMelody(bar)));
    if (line.length === BARS_A_LINE) endLine();
  }
  endLine();
  if (open) lines.push('{end_of_grid}');
  return `${lines.join('\n')}\n`;
}
