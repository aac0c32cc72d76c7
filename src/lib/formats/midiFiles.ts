/** What is played, of chords or of a tune, as the notes, band and markers of a file in MIDI. */
import { orderOf } from '$lib/arrange/inOrder';
import { temposOf } from '$lib/arrange/pieceOf';
import { DEFAULT_METRE, DEFAULT_TEMPO } from '$lib/arrange/progression';
import { tuneMeasures } from '$lib/arrange/tuneMeasures';
import { bandFor, bandForTune } from '$lib/playing/band/bandFor';
import { writtenNotes } from '$lib/playing/performance';
import { writtenTune } from '$lib/playing/tuneNotes';
import { formOf } from './arrangedForm';
import { markersOf, metresOf } from './arrangedScore';
import type { ArrangedPiece } from './progressionFiles';
import type { WrittenTune } from './tuneFiles';
import { toldOfMidi, writeMidiFile, type Marker } from './write/midi';

/** Sections and chord symbols by when they are due. */
function tuneMarkers({ piece, steps }: WrittenTune): Marker[] {
  return tuneMeasures(piece, steps).flatMap(
    ({ section, seconds, lastsSeconds, at, lasts, chords }) => [
      ...(section === undefined ? [] : [{ at: seconds, text: section }]),
      ...chords.map((each) => ({
        at: seconds + ((each.at - at) / lasts) * lastsSeconds,
        text: each.chord === 'no chord' ? 'N.C.' : each.chord.symbol,
      })),
    ],
  );
}

/** Metres in the order of playing, by their places in quarter notes. */
function tuneMetres({ piece, steps }: WrittenTune) {
  let quarters = 0;
  const metres: { at: number; metre: typeof DEFAULT_METRE }[] = [];
  for (const { metre, lasts } of tuneMeasures(piece, steps)) {
    const before = metres.at(-1)?.metre;
    if (before?.beats !== metre.beats || before.unit !== metre.unit)
      metres.push({ at: quarters, metre });
    quarters += (lasts * 4) / metre.unit;
  }
  return metres;
}

const playedOf = (piece: ArrangedPiece) => ({ notes: writtenNotes(piece), band: bandFor(piece) });
const playedTune = ({ piece, steps, feel }: WrittenTune) => ({
  notes: writtenTune(steps),
  band: bandForTune(piece, feel),
});

/** Chords as a file. */
export function arrangedMidi(piece: ArrangedPiece): Uint8Array {
  const { progression, setup, way } = piece;
  const { title = 'Progression', tempo = DEFAULT_TEMPO, tempos = [] } = progression;
  const [first, ...metres] = metresOf(formOf(setup, progression, way.steps, piece.piece));
  return writeMidiFile({
    ...{ title, tempo, tempos, metres },
    metre: first?.metre ?? DEFAULT_METRE,
    ...playedOf(piece),
    markers: markersOf(progression),
  });
}

/** A tune as a file. */
export function tuneMidi(tune: WrittenTune): Uint8Array {
  const { piece } = tune;
  const { title = 'Tune', tempo = DEFAULT_TEMPO } = piece;
  const [first, ...metres] = tuneMetres(tune);
  return writeMidiFile({
    ...{ title, tempo, metres, tempos: temposOf(piece, orderOf(piece.measures).order) },
    metre: first?.metre ?? DEFAULT_METRE,
    ...playedTune(tune),
    markers: tuneMarkers(tune),
  });
}

/** What is to be said of the file of chords. */
export const toldOfArranged = (piece: ArrangedPiece): string | undefined =>
  toldOfMidi(playedOf(piece));

/** What is to be said of the file of a tune. */
export const toldOfTune = (tune: WrittenTune): string | undefined => toldOfMidi(playedTune(tune));
