/**
 * The moments of a piece at which something is to be played, under its textures: notes of the tune alone or
 * with a second voice, chords with or without the tune on top, and notes between chords.
 */
import type { Chord } from '$lib/theory/chord';
import { chromaOf, chromaOfName, pitchNamed, type Pitch } from '$lib/theory/pitch';
import type { Key } from '$lib/theory/spelling';
import { inOrder, type InOrder, type InTime, type Moment, type PlayedNote } from './inOrder';
import { keyOf } from './findKey';
import { beatAt } from './noteWishes';
import { progressionOf } from './pieceOf';
import { SAME_PLACE, type Piece } from './piece';
import { isPitch, type MelodyNote } from './progression';
import { secondVoice } from './secondVoice';
import { textureOf, type Harmony, type Texture, type Textures } from './texture';

/** A moment at which something is played. */
export interface Onset extends InTime {
  /** The measure, by its number as it is written, from 0. */
  readonly measure: number;
  /** The beat in it, from 1, to a thousandth. */
  readonly beat: number;
  readonly texture: Texture;
  /** The note of the tune that sounds from here on; none where it rests. */
  readonly melody?: Pitch;
  /** That note began before, and the chord changes under it. */
  readonly melodyLasts: boolean;
  /** What is to sound below it. */
  readonly second?: Pitch;
  /** The chord of the moment. */
  readonly chord?: Chord;
  /** That chord is to be played here. */
  readonly asChord: boolean;
  /** A note between chords, under which the chord before is to ring on. */
  readonly between: boolean;
  /** It is played in one breath with the next one. */
  readonly slurred: boolean;
}

/** A note of one voice, its octave settled. */
interface VoiceNote extends InTime {
  readonly pitch: Pitch;
  readonly slurred: boolean;
}

/** The octave of a name without one: as near as can be to the note before, or to G4. */
function settled(note: MelodyNote, before: Pitch | undefined): Pitch {
  if (isPitch(note)) return note;
  const near = before?.midi ?? 67;
  const above = chromaOf(chromaOfName(note) - near);
  return pitchNamed(note, near + (above > 6 ? above - 12 : above));
}

/** Beats that a grace note takes from the note that follows it, and no more than half of that. */
const GRACE = 1 / 8;

/** The tune as one voice: of notes at once the highest, each ending where the next begins. */
export function voiceOf(notes: readonly PlayedNote[]): VoiceNote[] {
  const main: PlayedNote[] = [];
  const graces: PlayedNote[] = [];
  for (const note of [...notes].sort((a, b) => a.at - b.at)) {
    const last = main.at(-1);
    if (note.grace) graces.push(note);
    else if (last === undefined || note.at - last.at > SAME_PLACE) main.push(note);
    else if (midiOf(note.pitch) > midiOf(last.pitch)) main[main.length - 1] = note;
  }
  const all = main.flatMap((note): PlayedNote[] => {
    const own = graces.filter((grace) => Math.abs(grace.at - note.at) < SAME_PLACE);
    if (own.length === 0) return [note];
    const each = Math.min(GRACE, note.lasts / 2 / own.length);
    const part = (from: number, to: number) => ({
      at: note.at + from,
      lasts: to - from,
      seconds: note.seconds + (note.lastsSeconds * from) / note.lasts,
      lastsSeconds: (note.lastsSeconds * (to - from)) / note.lasts,
    });
    return [
      ...own.map((grace, at) => ({ ...grace, ...part(at * each, (at + 1) * each) })),
      { ...note, ...part(own.length * each, note.lasts) },
    ];
  });
  const voice: VoiceNote[] = [];
  all.forEach((note, at) => {
    const next = all[at + 1];
    const cut = next !== undefined && next.at < note.at + note.lasts - SAME_PLACE;
    voice.push({
      at: note.at,
      seconds: note.seconds,
      lasts: cut ? next.at - note.at : note.lasts,
      lastsSeconds: cut ? next.seconds - note.seconds : note.lastsSeconds,
      pitch: settled(note.pitch, voice.at(-1)?.pitch),
      slurred: note.slurred,
    });
  });
  return voice;
}

const midiOf = (note: MelodyNote): number => (isPitch(note) ? note.midi : -1);

/** By measure as it is written: the key that holds in it. */
function keysOf(piece: Piece): Key[] {
  let now = piece.key ?? keyOf(progressionOf(piece));
  return piece.measures.map(({ key }) => (now = key ?? now));
}

/** The last of those in order that has begun; `undefined` before the first. */
function begunBy<T extends { readonly at: number }>(all: readonly T[], at: number): T | undefined {
  return all.findLast((each) => each.at <= at + SAME_PLACE);
}

const isWhole = (beats: number): boolean => Math.abs(beats - Math.round(beats)) < 1e-4;

/** Everything that is to be played, in order of time. */
export function onsetsOf(piece: Piece, textures: Textures): Onset[] {
  const played = inOrder(piece);
  const voice = voiceOf(played.notes);
  const drafts = [...noteDrafts(played, voice, textures), ...chordDrafts(played, voice, textures)];
  drafts.sort((a, b) => a.at - b.at);
  const keys = keysOf(piece);
  const ends = { at: played.beats, seconds: played.seconds };
  return drafts.map((draft, index): Onset => {
    const { note, moment, asChord, between, texture, measure, at, seconds } = draft;
    const next = drafts[index + 1] ?? ends;
    const chord = moment?.chord === 'no chord' ? undefined : moment?.chord;
    const melodyLasts = note !== undefined && note.at < at - SAME_PLACE;
    // a chord rings until something else begins; a note alone as long as it is written
    const noteEnd = note && { at: note.at + note.lasts, seconds: note.seconds + note.lastsSeconds };
    const end =
      asChord || between || noteEnd === undefined || noteEnd.at > next.at ? next : noteEnd;
    const second =
      note !== undefined && (texture === 'thirds' || texture === 'sixths' || texture === 'tenths')
        ? secondVoice(note.pitch, texture, keys[measure] as Key, chord)
        : undefined;
    return {
      at,
      seconds,
      lasts: end.at - at,
      lastsSeconds: end.seconds - seconds,
      measure,
      beat: beatAt(at - (begunBy(played.measures, at)?.at ?? at)),
      texture,
      melodyLasts,
      asChord,
      between,
      slurred: note?.slurred ?? false,
      ...(note === undefined ? {} : { melody: note.pitch }),
      ...(second === undefined ? {} : { second }),
      ...(chord === undefined ? {} : { chord }),
    };
  });
}

/** What is to be played at a moment, before it is known how long. */
interface Draft {
  readonly at: number;
  readonly seconds: number;
  readonly measure: number;
  readonly texture: Texture;
  readonly note: VoiceNote | undefined;
  readonly moment: Moment | undefined;
  readonly asChord: boolean;
  readonly between: boolean;
}

const hasChords = (texture: Texture): boolean => texture === 'chords' || texture === 'chord-melody';

/**
 * Where a chord is to be played: where it changes, and where a part with chords begins while it lasts. What is
 * repeated has its chords in every pass where it has them in one: a chord that goes on over the end of a pass is
 * struck anew with the next one, as it was at first.
 */
function changesIn({ measures, moments }: InOrder, textures: Textures): readonly Place[] {
  const within = measures.map(({ at, lasts }) =>
    moments
      .map((moment, index) => ({
        moment,
        isNew: symbolOf(moment) !== symbolOf(moments[index - 1]),
      }))
      .filter(({ moment }) => moment.at >= at - SAME_PLACE && moment.at < at + lasts - SAME_PLACE),
  );
  /** Of a measure as it is written: how far behind its beginning, in thousandths of a beat. */
  const written = (measure: number, behind: number): string =>
    `${measure}/${Math.round(1000 * behind)}`;
  const changed = new Set(
    measures.flatMap(({ measure, at }, pass) =>
      (within[pass] ?? [])
        .filter(({ isNew }) => isNew)
        .map(({ moment }) => written(measure, moment.at - at)),
    ),
  );
  const begun = beginsIn({ measures, moments }, textures);
  return measures.flatMap(({ measure, at, seconds }, pass): Place[] => {
    const texture = textureOf(textures, measure + 1);
    const begins = begun.has(measure);
    if (!hasChords(texture)) return [];
    const own = (within[pass] ?? [])
      .map(({ moment }) => moment)
      // chords alone are played as often as they are written
      .filter((each) => texture === 'chords' || changed.has(written(measure, each.at - at)));
    const starts = own[0] !== undefined && Math.abs(own[0].at - at) < SAME_PLACE;
    return [
      ...(begins && !starts ? [{ at, seconds, measure, texture }] : []),
      ...own.map((each) => ({ at: each.at, seconds: each.seconds, measure, texture })),
    ];
  });
}

/**
 * The measures, as they are written, with which a part with chords begins while one sounds. A pickup that has none the
 * first time is left without when it comes again, though the chord before goes on under it.
 */
function beginsIn(
  { measures, moments }: Pick<InOrder, 'measures' | 'moments'>,
  textures: Textures,
): ReadonlySet<number> {
  const begun = new Set<number>();
  const silent = new Set<number>();
  let before: Texture = 'line';
  for (const { measure, at } of measures) {
    const texture = textureOf(textures, measure + 1);
    if (hasChords(texture) && !hasChords(before)) begun.add(measure);
    before = texture;
    const moment = begunBy(moments, at);
    if (moment === undefined || moment.chord === 'no chord') silent.add(measure);
  }
  return new Set([...begun].filter((measure) => !silent.has(measure)));
}

const symbolOf = (moment: Moment | undefined): string =>
  moment === undefined || moment.chord === 'no chord' ? '' : moment.chord.symbol;

interface Place {
  readonly at: number;
  readonly seconds: number;
  readonly measure: number;
  readonly texture: Texture;
}

/** Chords that are played where no note of the tune begins. */
function chordDrafts(played: InOrder, voice: readonly VoiceNote[], textures: Textures): Draft[] {
  return changesIn(played, textures).flatMap((place): Draft[] => {
    const moment = begunBy(played.moments, place.at);
    if (moment === undefined || moment.chord === 'no chord') return [];
    const note = begunBy(voice, place.at);
    const sounds = note !== undefined && note.at + note.lasts > place.at + SAME_PLACE;
    const begins = sounds && Math.abs(note.at - place.at) < SAME_PLACE;
    if (place.texture === 'chord-melody' && begins) return [];
    // under chords alone the tune is the band's, but where it begins with one it is on top
    const own = place.texture === 'chords' ? begins : sounds;
    return [{ ...place, note: own ? note : undefined, moment, asChord: true, between: false }];
  });
}

/** The notes of the tune that are played where they begin. */
function noteDrafts(played: InOrder, voice: readonly VoiceNote[], textures: Textures): Draft[] {
  const changes = changesIn(played, textures);
  return voice.flatMap((note): Draft[] => {
    const { at, seconds } = note;
    const inMeasure = begunBy(played.measures, at);
    if (inMeasure === undefined) return [];
    const { measure } = inMeasure;
    const texture = textureOf(textures, measure + 1);
    if (texture === 'chords') return [];
    const moment = begunBy(played.moments, at);
    const sounds = moment !== undefined && moment.chord !== 'no chord';
    const wanted = (harmony: Harmony): boolean =>
      harmony === 'every' ||
      (harmony === 'beats' && isWhole(at - inMeasure.at)) ||
      changes.some((each) => Math.abs(each.at - at) < SAME_PLACE);
    const asChord = texture === 'chord-melody' && sounds && wanted(textures.harmony);
    const between = texture === 'chord-melody' && sounds && !asChord;
    return [{ at, seconds, measure, texture, note, moment, asChord, between }];
  });
}
