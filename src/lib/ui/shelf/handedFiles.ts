/**
 * Files that the device hands to the installed program: shared from another program, or opened with this
 * one. The service worker lays what is shared into a store of the browser; the place that opens files takes it
 * out.
 */

/** The store, which no version of the program throws away. */
const STORE = 'handed-to-gripwright';
/** What an address says, behind which something lies in the store. */
export const HANDED = 'from=device';
/** Most files of one handing over. */
const MOST_FILES = 20;
const NAME = 'x-file-name';

/** A link of the program's own in a text; what it carries stands behind the `#`. */
const LINK = /\/open\/?#([\w.~-]+)/u;

/** The parts of a form, as far as they are asked for here. */
export interface HandedForm {
  get(name: string): FormDataEntryValue | null;
  getAll(name: string): FormDataEntryValue[];
}

/**
 * Lays what was shared into the store and gives the rest of the address where it is looked at: `#…` for a
 * link of the program's own, else the question that says that there is something in the store.
 */
export async function layDown(form: HandedForm, stores: CacheStorage): Promise<string> {
  const files = form.getAll('file').filter((part) => part instanceof File);
  const words = ['text', 'url', 'title']
    .map((name) => form.get(name))
    .filter((part) => typeof part === 'string');
  if (files.length === 0) {
    const link = words.map((text) => LINK.exec(text)?.[1]).find((found) => found !== undefined);
    if (link !== undefined) return `#${link}`;
    const [text] = words.filter((each) => each.trim() !== '');
    if (text !== undefined) files.push(new File([text], 'shared.txt', { type: 'text/plain' }));
  }
  await stores.delete(STORE);
  const store = await stores.open(STORE);
  for (const [index, file] of files.slice(0, MOST_FILES).entries())
    await store.put(
      `./${String(index).padStart(2, '0')}`,
      new Response(file, { headers: { [NAME]: encodeURIComponent(file.name) } }),
    );
  return `?${HANDED}`;
}

/** Takes out what was laid into the store, in order; nothing where there is no store or nothing in it. */
export async function takeOut(stores: CacheStorage | undefined): Promise<File[]> {
  if (stores === undefined || !(await stores.has(STORE))) return [];
  const store = await stores.open(STORE);
  const files: File[] = [];
  for (const request of await store.keys()) {
    const laid = await store.match(request);
    const name = laid?.headers.get(NAME);
    if (laid !== undefined && name)
      files.push(new File([await laid.blob()], decodeURIComponent(name)));
  }
  await stores.delete(STORE);
  return files;
}

/** What a browser gives of a file that it opens with an installed program. */
interface LaunchParams {
  readonly files: readonly { getFile(): Promise<File> }[];
}
interface LaunchQueue {
  setConsumer(consumer: (params: LaunchParams) => void): void;
}

/** Calls back with files that the installed program is opened with; never where a browser knows none. */
export function whenOpenedWith(
  take: (files: readonly File[]) => void,
  { launchQueue }: { readonly launchQueue?: LaunchQueue } = globalThis as {
    readonly launchQueue?: LaunchQueue;
  },
): void {
  launchQueue?.setConsumer(({ files }) => {
    if (files.length === 0) return;
    void Promise.all(files.map((file) => file.getFile())).then(take);
  });
}
