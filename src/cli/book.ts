/** `gripwright book --out F.pdf|svg`: a chord book of a setup. */
import { keyInLetters } from '$lib/theory/typedNames';
import { PAPERS } from '$lib/formats/drawing';
import { BOOK_BEYOND } from '$lib/formats/codeWords';
import { BOOK_PARTS, POSITIONS, readBookQuestion, type BookTexts } from '$lib/answers/bookQuestion';
import { LADDER_INTERVALS } from '$lib/scales/ladders';
import { writeOut } from './files';
import type { MakeJob } from './job';
import { loadSetup } from './loadSetup';
import { optionsRefused, paperOf } from './options';
import { countText, print, printJson } from './out';
import { addressOf, addressOption, drawingBytes, paperFormatOf, setupCode } from './paperOut';

interface BookOptions extends BookTexts {
  readonly setup: string;
  readonly out: string;
  readonly paper: string;
  readonly address: string;
  readonly json?: boolean;
}

/** Adds the job `book`. */
export function addBook(job: MakeJob): void {
  job('book', 'draw a chord book: positions as small necks, pedals and levers, ladders, scales')
    .requiredOption('--out <file>', 'where to write it; the ending says how: .svg or .pdf')
    .option('--parts <parts>', `some of ${BOOK_PARTS.join(', ')}; all where left out`)
    .option(
      '--types <types>',
      'types of chords, such as maj,m,7,m7,maj7; everyday for all of those',
    )
    .option('--key <key>', 'the key of the chords, or all; C where left out')
    .option(
      '--positions <number>',
      `positions of each chord, ${POSITIONS.least} to ${POSITIONS.most}; ${POSITIONS.usual} where left out`,
    )
    .option('--ladders <intervals>', `some of ${LADDER_INTERVALS.join(', ')}`)
    .option('--scales <names>', 'kinds of scales, such as "major,minor pentatonic"')
    .option('--paper <size>', PAPERS.join(' or '), 'A4')
    .addOption(addressOption())
    .action(async (options: BookOptions) => {
      await book(options);
    });
}

async function book(options: BookOptions): Promise<void> {
  const { out, json } = options;
  const paper = paperOf(options.paper);
  const format = paperFormatOf(out);
  const address = addressOf(options.address);
  const setup = loadSetup(options.setup);
  const key = options.key === undefined ? {} : { key: keyInLetters(options.key) };
  const read = readBookQuestion(setup, { ...options, ...key });
  if (!read.ok) throw optionsRefused(read.error);
  const [{ bookOf }, { bookDrawing }] = await Promise.all([
    import('$lib/answers/book'),
    import('$lib/formats/bookDrawing'),
  ]);
  const whole = bookOf(setup, read.value);
  const drawing = bookDrawing(whole, paper, setupCode(setup, address, BOOK_BEYOND));
  const bytes = await drawingBytes(drawing, format);
  await writeOut(out, bytes);
  const pages = drawing.pages.length;
  const necks = whole.sections.flatMap(({ groups }) => groups.flatMap((each) => each.necks)).length;
  if (json)
    printJson({
      ...{ file: out, format, paper, pages, bytes: bytes.length, setup: setup.name },
      sections: whole.sections.map(({ title, groups }) => ({
        title,
        positions: groups.reduce((sum, each) => sum + each.necks.length, 0),
      })),
    });
  else
    print(
      `${out}: a chord book of “${setup.name}”, ${countText(necks, 'position')}, ${countText(pages, 'page')} of ${paper}.`,
    );
}
