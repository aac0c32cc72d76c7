/** Everything on this device as a file, and such a file brought onto it. */
import { ok, refuse, type Result } from '$lib/result';
import { afterwards, everythingText, isChoice, readEverything, restoring } from './everything';
import type { Store } from './store';

function choicesHere(): Record<string, string> {
  try {
    return Object.fromEntries(
      Object.keys(localStorage)
        .filter(isChoice)
        .flatMap((name) => {
          const text = localStorage.getItem(name);
          return text === null ? [] : [[name, text]];
        }),
    );
  } catch {
    return {};
  }
}

export async function savedEverything(store: Store): Promise<Result<string, string>> {
  const documents = await store.everything();
  return documents.ok
    ? ok(everythingText({ documents: documents.value, choices: choicesHere() }))
    : documents;
}

/** Choices that are made here already stay. */
function restoreChoices(choices: Readonly<Record<string, string>>): number {
  let restored = 0;
  try {
    for (const [name, text] of Object.entries(choices))
      if (localStorage.getItem(name) === null) {
        localStorage.setItem(name, text);
        restored += 1;
      }
  } catch {
    // they hold for the other device
  }
  return restored;
}

/** What was brought, as a sentence; or what is wrong with the file, and then nothing was. */
export async function restoredEverything(
  store: Store,
  text: string,
  newId: () => string,
): Promise<Result<string, readonly string[]>> {
  const read = readEverything(text);
  if (!read.ok) return read;
  const loaded = await store.everything();
  if (!loaded.ok) return refuse([loaded.error]);
  let here: readonly (typeof loaded.value)[number][] = loaded.value;
  const count = { new: 0, joined: 0, copy: 0, here: 0 };
  for (const document of read.value.documents) {
    const made = restoring(here, document, newId);
    if (made === undefined) {
      count.here += 1;
      continue;
    }
    // a write a document, so that the page goes on in between
    const written = await store.write(made.on, made.change, made.step);
    if (!written.ok) return refuse([written.error]);
    if (!written.value.done)
      return refuse(['Another tab changed something meanwhile. Open the file again for the rest.']);
    count[made.as] += 1;
    const { revision } = written.value;
    const entry = { ...made.change.entry, revision };
    here = afterwards(here, { ...made, change: { ...made.change, entry } });
  }
  const choices = restoreChoices(read.value.choices);
  return ok(
    `is opened: ${count.new} restored, ${count.joined} continued, ${count.copy} kept beside what is here, ${count.here} here already${choices > 0 ? '; choices count from the next start' : ''}.`,
  );
}
