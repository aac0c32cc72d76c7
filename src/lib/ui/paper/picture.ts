/** A drawing as a picture: SVG as text, PNG by the browser's own drawing of it, to be saved or copied. */
import { refuse, ok, type Result } from '$lib/result';
import type { Drawing } from '$lib/formats/drawing';
import { reasonOf } from '$lib/ui/parts/reason';
import { fileNameOf, saveFile } from './saving';

/** The kinds of pictures. */
export type PictureKind = 'png' | 'svg';

const TYPES = { png: 'image/png', svg: 'image/svg+xml' } as const;
/** CSS pixels a millimetre, and twice as many dots. */
const DOTS_A_MM = (96 / 25.4) * 2;

/** How often a picture is drawn, and the pause after each, in milliseconds. */
const [DRAWN_TIMES, BETWEEN_MS] = [3, 100];

const svgOf = async (drawing: Drawing): Promise<string> =>
  (await import('$lib/formats/svg')).svgText(drawing);

/** Drawn by the browser from the SVG, fonts and all; white behind, whatever the theme is. */
async function pngOf(drawing: Drawing): Promise<Blob> {
  const { width, height } = drawing.pages[0] ?? { width: 1, height: 1 };
  const url = URL.createObjectURL(new Blob([await svgOf(drawing)], { type: TYPES.svg }));
  try {
    const image = new Image();
    image.src = url;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = Math.round(width * DOTS_A_MM);
    canvas.height = Math.round(height * DOTS_A_MM);
    const ink = canvas.getContext('2d');
    if (ink === null) throw new Error('the browser draws no pictures');
    // the fonts within it are fetched when it is drawn, and letters are left out until they are there
    for (let time = 0; time < DRAWN_TIMES; time++) {
      ink.clearRect(0, 0, canvas.width, canvas.height);
      ink.drawImage(image, 0, 0, canvas.width, canvas.height);
      await new Promise((then) => setTimeout(then, BETWEEN_MS));
    }
    return await new Promise<Blob>((done, failed) => {
      canvas.toBlob((blob) => {
        if (blob === null) failed(new Error('the browser made no picture of it'));
        else done(blob);
      }, TYPES.png);
    });
  } finally {
    URL.revokeObjectURL(url);
  }
}

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
