/** What was practised as a file: saved, and opened again here or on another device. */
import { faultText } from '$lib/faults';
import { practiceText, readPractice } from '$lib/practice/record';
import { textOf, type OpenedFile } from '$lib/storage/textFile';
import { fileNameOf, saveFile } from '$lib/ui/paper/saving';
import type { PracticePlace } from './practice.svelte';

export class PracticeFiles {
  readonly #place: PracticePlace;
  /** What became of a file, as a sentence. */
  told = $state('');

  constructor(place: PracticePlace) {
    this.#place = place;
  }

  save(): void {
    const value = this.#place.keeping.document?.value;
    if (value === undefined) return;
    const name = fileNameOf(`practice ${value.name}`, 'json');
    saveFile(name, 'application/json', practiceText(value));
    this.told = `Saved as ${name}.`;
  }

  /** Adds the answers of a file to those that are here; nothing that is here is lost. */
  async open(files: Iterable<OpenedFile>): Promise<void> {
    for (const file of files) {
      const text = await textOf(file);
      const read = text.ok ? readPractice(text.value) : text;
      if (!read.ok) {
        this.told = `${file.name} was not opened: ${read.error.map(faultText).join(' ')} Nothing was changed.`;
        continue;
      }
      const added = await this.#place.keeping.add(read.value.answers, file.name);
      this.told =
        added === 0
          ? `All answers of ${file.name} are here already.`
          : `${added === 1 ? 'One answer' : `${added} answers`} of ${file.name} added.`;
    }
  }
}
