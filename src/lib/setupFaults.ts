/** What can be wrong with a setup, and with what is proposed for one. */
import { DOCUMENT_SENTENCES } from './documentFaults';
import { faultsOf, type Sentences } from './faults';
import { quoted, range, shown } from './faultWords';

export const SETUP_SENTENCES = {
  ...DOCUMENT_SENTENCES,

  // a setup file: rules between its places; `first` is where a thing stands for the first time
  'setup.tooLong': (length: number, most: number) => [
    `${length} characters`,
    `a setup file of at most ${most} characters`,
  ],
  'setup.tooMuch': (keys?: number) => [
    keys === undefined ? 'a document of very many parts' : `an object with ${keys} keys`,
    'one setup',
  ],
  'id.twice': (id: string, first: number) => [
    `${shown(id)} again (first at controls[${first}])`,
    'an id of its own for every control',
  ],
  'slack.asLongAsTravel': (slackMm: number, travelMm: number) => [
    shown(slackMm),
    `less than the travel of ${travelMm} mm`,
  ],
  'rods.unlikeHoles': (rods: number, holes: number) => [
    `${rods} beside ${holes} holes`,
    'as many as there are holes, or no number beside the holes',
  ],
  'turn.beyondMost': (degrees: number, most: number) => [
    shown(degrees),
    `at most the ${most} degrees of mostTurnDegrees`,
  ],
  'station.twice': (station: string, first: number) => [
    `${shown(station)} again (first at controls[${first}])`,
    'one control a station',
  ],
  'neck.absent': (neck: number, necks: number) => [
    shown(neck),
    `a neck of this setup, ${range(1, necks)}`,
  ],
  'string.absent': (string: number, neck: number, strings: number) => [
    shown(string),
    `a string of neck ${neck}, ${range(1, strings)}`,
  ],
  'pull.twice': (string: number, neck: number, first: number) => [
    `a second pull on string ${string} of neck ${neck} (first at pulls[${first}])`,
    'one pull a string and neck in a control',
  ],
  'half.notOnTheWay': (half: number, semitones: number, stops: readonly [number, number]) => [
    shown(half),
    `a stop on the way to ${semitones}: ${range(...stops)}`,
  ],
  'half.ofOneSemitone': (half: number) => [
    shown(half),
    'no half-stop: a pull of one semitone has no whole step on the way',
  ],
  'halfCents.withoutHalf': (cents: unknown) => [
    shown(cents),
    'a target only where the pull has a half-stop',
  ],
  'splitCents.ofRaise': (cents: unknown) => [shown(cents), 'a target of a split only on a lower'],
  'drop.twice': (string: number, neck: number, first: number) => [
    `a second drop of string ${string} of neck ${neck} (first at drops[${first}])`,
    'one drop a string and neck in a control',
  ],
  'drop.ofPulledString': (string: number, neck: number) => [
    `string ${string} of neck ${neck}, which this control pulls itself`,
    'a string that the control does not pull',
  ],
  'combination.idTwice': (id: string) => [
    `${shown(id)} again`,
    'each control once in a combination',
  ],
  'combination.idUnknown': (id: string) => [shown(id), 'the id of a control of this setup'],
  'combination.twice': (list: 'never' | 'also', first: number) => [
    `the combination of ${list}[${first}] again`,
    'each combination once',
  ],
  'combination.switchedOff': (never: number) => [
    `a combination that holds all of never[${never}]`,
    'a combination that is not switched off in the same file',
  ],

  // a control as a text, and what is proposed for a setup
  'control.form': (text: string) => [
    quoted(text),
    'a station and its pulls, such as LKV:5-1,10-1 or RKR:2-1/-2,9-1',
  ],
  'control.station': (text: string, stations: readonly string[]) => [
    quoted(text),
    `a station: ${stations.join(', ')}`,
  ],
  'control.pull': (text: string) => [
    quoted(text),
    'a pull such as 5-1 or 10+2, with a half-stop 2-1/-2, on a second neck 2.5+1',
  ],
  'control.pullTwice': (text: string, string: number, neck?: number) => [
    quoted(text),
    `one pull for string ${string}${neck === undefined ? '' : ` of neck ${neck}`}`,
  ],
  'control.neck': (text: string, necks: number) => [
    quoted(text),
    `a neck that is there; this setup has ${necks}`,
  ],
  'control.string': (text: string, strings: number) => [
    quoted(text),
    `a string of that neck, 1 to ${strings}`,
  ],
  'control.semitones': (text: string, most: number) => [
    quoted(text),
    `1 to ${most} semitones up or down`,
  ],
  'control.half': (text: string) => [
    quoted(text),
    'a half-stop on the way to the full one, such as 2-1/-2',
  ],
  'without.unknown': (id: string, ids: readonly string[]) => [
    quoted(id),
    ids.length === 0
      ? 'nothing: this setup has no controls'
      : `a control of this setup, each once: ${ids.join(', ')}`,
  ],
  'open.unreadable': (text: string) => [
    quoted(text),
    'a string of this setup and its pitch, such as 9:C#3',
  ],
} satisfies Sentences;

export const { fault } = /* @__PURE__ */ faultsOf(SETUP_SENTENCES);
