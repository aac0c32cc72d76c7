/** A drawing as a picture: SVG as text, PNG by the browser's own drawing of it, to be saved or copied. */
import { refuse, ok, type Result } from '$lib/result';
import type { Drawing } from '$lib/formats/drawing';
import { reasonOf } from '$lib/ui/parts/reason';
import type { Spot } from './letterSpots';
import { fileNameOf, saveFile } from './saving';

/** The kinds of pictures. */
export type PictureKind = 'png' | 'svg';

const TYPES = { png: 'image/png', svg: 'image/svg+xml' } as const;
/** CSS pixels a millimetre, and twice as many dots. */
const DOTS_A_MM = (96 / 25.4) * 2;

/** How long its letters may take to come, and how often it is looked, in milliseconds. */
const [LETTERS_MS, LOOK_MS] = [5000, 20];

const svgOf = async (drawing: Drawing): Promise<string> =>
  (await import('$lib/formats/svg')).svgText(drawing);

/** The same without its letters. */
const wordless = ({ title, pages }: Drawing): Drawing => ({
  title,
  pages: pages.map((page) => ({
    ...page,
    marks: page.marks.filter(({ kind }) => kind !== 'text'),
  })),
});

/** Draws an SVG as often as it is asked, in dots, on white whatever the theme is. */
async function drawer(
  drawing: Drawing,
): Promise<{ canvas: HTMLCanvasElement; draw: () => CanvasRenderingContext2D }> {
  const { width, height } = drawing.pages[0] ?? { width: 1, height: 1 };
  const url = URL.createObjectURL(new Blob([await svgOf(drawing)], { type: TYPES.svg }));
  try {
    const image = new Image();
    image.src = url;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = Math.round(width * DOTS_A_MM);
    canvas.height = Math.round(height * DOTS_A_MM);
    const ink = canvas.getContext('2d', { willReadFrequently: true });
    if (ink === null) throw new Error('the browser draws no pictures');
    const draw = (): CanvasRenderingContext2D => {
      ink.clearRect(0, 0, canvas.width, canvas.height);
      ink.drawImage(image, 0, 0, canvas.width, canvas.height);
      return ink;
    };
    return { canvas, draw };
  } finally {
    URL.revokeObjectURL(url);
  }
}

/**
 * Drawn by the browser from the SVG, fonts and all. It fetches the fonts within only when it draws, and
 * leaves the letters out until they are there: so it is drawn until, in every font, some are seen where
 * there are none without them.
 */
async function pngOf(drawing: Drawing): Promise<Blob> {
  const [page] = drawing.pages;
  const { letterSpots } = await import('./letterSpots');
  const spots = page === undefined ? [] : letterSpots(page);
  const [{ canvas, draw }, bare] = await Promise.all([drawer(drawing), drawer(wordless(drawing))]);
  const dotsAt = (ink: CanvasRenderingContext2D, { x, y, width, height }: Spot): string =>
    ink.getImageData(...([x, y, width, height].map((mm) => mm * DOTS_A_MM) as Box)).data.join();
  const blank = bare.draw();
  const until = performance.now() + LETTERS_MS;
  for (;;) {
    const ink = draw();
    if (spots.every((spot) => dotsAt(ink, spot) !== dotsAt(blank, spot))) break;
    if (performance.now() > until) throw new Error('its letters did not come in time');
    await new Promise((then) => setTimeout(then, LOOK_MS));
  }
  return new Promise<Blob>((done, failed) => {
    canvas.toBlob((blob) => {
      if (blob === null) failed(new Error('the browser made no picture of it'));
      else done(blob);
    }, TYPES.png);
  });
}

type Box = [x: number, y: number, width: number, height: number];

/** Saves a picture; what went wrong is a sentence. */
export async function savePicture(
  draw: () => Promise<Drawing>,
  kind: PictureKind,
  title?: string,
): Promise<Result<string, string>> {
  try {
    const drawing = await draw();
    const content =
      kind === 'svg'
        ? await svgOf(drawing)
        : new Uint8Array(await (await pngOf(drawing)).arrayBuffer());
    const name = fileNameOf(title ?? drawing.title, kind);
    saveFile(name, TYPES[kind], content);
    return ok(`Saved as ${name}.`);
  } catch (error) {
    return refuse(`The picture could not be made: ${reasonOf(error)}.`);
  }
}

/** Copies a picture; a browser that cannot, or may not, says so in a sentence. */
export async function copyPicture(
  draw: () => Promise<Drawing>,
  kind: PictureKind,
): Promise<Result<string, string>> {
  const clipboard = navigator.clipboard as Clipboard | undefined;
  if (clipboard === undefined || typeof ClipboardItem === 'undefined')
    return refuse(
      isSecureContext
        ? 'This browser copies no pictures. Save it instead.'
        : 'Pictures are copied only where the page comes over HTTPS. Save it instead.',
    );
  let made: Promise<Blob> | undefined;
  try {
    if (kind === 'svg') {
      await clipboard.writeText(await svgOf(await draw()));
      return ok('The SVG is copied, as text.');
    }
    // handed over unfinished: some browsers allow a copy only while the press is fresh
    made = draw().then(pngOf);
    await clipboard.write([new ClipboardItem({ [TYPES.png]: made })]);
    return ok('The picture is copied.');
  } catch (error) {
    const failed = await made?.then(
      () => undefined,
      (reason: unknown) => reasonOf(reason),
    );
    if (failed !== undefined) return refuse(`The picture could not be made: ${failed}.`);
    return error instanceof DOMException && error.name === 'NotAllowedError'
      ? refuse('The browser did not allow the copy. Save the picture instead.')
      : refuse(`The picture could not be copied: ${reasonOf(error)}. Save it instead.`);
  }
}
