/** What cannot be read, written or fetched ends in a sentence; the button can be pressed again. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import { readProgression } from '$lib/arrange/readText';
import { noWishes } from '$lib/arrange/wishes';
import { builtIn } from '$lib/setup/builtIns';
import { openedText, saveWay } from '$lib/ui/arrange/files';
import { saveSound } from '$lib/ui/sound/saveSound';
import { arranging } from './answering';

afterEach(() => vi.unstubAllGlobals());

const { progression } = readProgression('G | C');

describe('a file', () => {
  it.each(['song.txt', 'tune.mid'])('%s that the browser cannot read is told', async (name) => {
    const file = Object.assign(new File(['G'], name), {
      arrayBuffer: () => Promise.reject(new DOMException('It was moved.', 'NotReadableError')),
    });
    const opened = await openedText(file, progression);
    expect(opened.ok ? '' : opened.error).toBe('The file could not be read: It was moved.');
  });

  it.each([
    ['odd.abc', '1\nT:\nT:', /^found something that cannot be made sense of; allowed is .+\.$/],
    ['cut.musicxml', '<a>\n<b>', /^line 2: found text that is not XML .+; allowed is XML\.$/],
    ['tune.mid', 'MThd', /^found a MIDI file that is cut off or damaged; allowed is .+\.$/],
  ])('%s that its reader breaks at is told', async (name, text, sentence) => {
    const opened = await openedText(new File([text], name), progression);
    expect(opened.ok ? '' : opened.error).toMatch(sentence);
  });

  it('whose writer cannot be fetched is told', async () => {
    vi.stubGlobal('navigator', { language: 'en' });
    const setup = builtIn('e9');
    const wishes = noWishes(false);
    const found = await arranging().arrange(setup, progression, wishes, 1);
    if (!found.ok) throw new Error(found.error);
    const [way] = found.value.ways;
    if (way === undefined) throw new Error('no way');
    const kind = {
      endings: ['txt'],
      name: 'a text',
      type: 'text/plain',
      write: () => Promise.reject(new Error('its program could not be loaded')),
    };
    const answered = { text: '', setup, progression, wishes, arrangement: found.value };
    const saved = await saveWay(kind, answered, way);
    expect(saved.ok ? '' : saved.error).toBe(
      'The file could not be written: its program could not be loaded.',
    );
  });

  it('of sound is told where there is no worker to write it', async () => {
    // there is none outside a browser
    const saved = await saveSound([], { referenceHz: 440 }, 'a chord');
    expect(saved.ok ? '' : saved.error).toMatch(/^The sound could not be written: .+\.$/u);
  });
});
