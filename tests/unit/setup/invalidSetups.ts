/**
 * The broken setups of `shared/setups/invalid/`: where the fault of each lies and a word that its
 * report must hold. Rules and bounds: model, section 1 (strings 1 to 14, necks 1 to 3, controls 0 to
 * 20, frets 0 to 36, ids up to 8 characters, semitones −7 to 7 and not 0, one control a station, one
 * pull a string and neck). `unseen` says why a schema cannot find the fault, where it cannot.
 */
export interface Broken {
  readonly file: string;
  readonly paths: readonly string[];
  readonly word: string;
  readonly unseen?: string;
}

const broken = (file: string, path: string, word: string): Broken => ({
  file,
  paths: [path],
  word,
});
const unseen = (file: string, path: string, word: string, reason: string): Broken => ({
  ...broken(file, path, word),
  unseen: reason,
});

const TWO_PLACES = 'a schema does not compare values in two places of a file';
const SOUND = 'a schema sees letters, not how high they sound';

export const BROKEN: readonly Broken[] = [
  broken('format-missing', 'format', 'nothing'),
  broken('format-newer', 'format', 'newer'),
  broken('format-unknown', 'format', '0'),
  broken('format-as-text', 'format', '“1”'),
  broken('name-missing', 'name', 'nothing'),
  broken('name-empty', 'name', '“”'),
  broken('name-too-long', 'name', '201'),
  broken('notes-not-text', 'notes', 'text'),
  broken('frets-too-many', 'frets', '36'),
  broken('frets-below-nought', 'frets', '-1'),
  broken('frets-not-whole', 'frets', 'whole'),
  broken('scale-length-in-inches', 'scaleLengthMm', 'millimetres'),
  broken('reference-pitch-as-text', 'referenceHz', 'hertz'),
  broken('reach-not-an-object', 'reach', 'pedalsAtOnce'),
  broken('reach-as-list', 'reach', 'a list of 0'),
  broken('neck-as-list', 'necks[0]', 'a list of 2'),
  broken('string-as-list', 'necks[0].strings[1]', 'a list of 2'),
  broken('control-as-list', 'controls[0]', 'a list of 2'),
  broken('pull-as-list', 'controls[0].pulls[0]', 'a list of 2'),
  broken('no-pedal-at-once', 'reach.pedalsAtOnce', '1 to 4'),
  broken('five-pedals-at-once', 'reach.pedalsAtOnce', '1 to 4'),
  broken('knee-up-not-true-or-false', 'reach.kneeUpWithSideways', 'true or false'),
  broken('necks-missing', 'necks', 'nothing'),
  broken('no-neck', 'necks', '1 to 3'),
  broken('four-necks', 'necks', 'a list of 4'),
  broken('neck-not-an-object', 'necks[1]', 'an object'),
  broken('neck-name-missing', 'necks[0].name', 'nothing'),
  broken('strings-missing', 'necks[0].strings', 'nothing'),
  broken('no-string', 'necks[0].strings', '1 to 14'),
  broken('too-many-strings', 'necks[0].strings', 'a list of 15'),
  broken('open-missing', 'necks[0].strings[0].open', 'nothing'),
  broken('open-not-a-pitch', 'necks[0].strings[0].open', 'H3'),
  broken('open-without-octave', 'necks[0].strings[0].open', 'F#'),
  broken('open-as-number', 'necks[0].strings[0].open', '64'),
  unseen('open-too-high', 'necks[0].strings[0].open', 'C8', SOUND),
  unseen('open-too-low', 'necks[0].strings[0].open', 'C0', SOUND),
  broken('gauge-nought', 'necks[0].strings[0].gauge', '0'),
  broken('gauge-in-thousandths', 'necks[0].strings[0].gauge', 'inches'),
  broken('wound-not-true-or-false', 'necks[0].strings[0].wound', 'true or false'),
  broken('core-gauge-as-text', 'necks[0].strings[0].coreGauge', 'inches'),
  broken('string-cents-too-many', 'necks[0].strings[0].cents', '101'),
  broken('string-notes-not-text', 'necks[0].strings[0].notes', 'text'),
  broken('controls-missing', 'controls', 'nothing'),
  {
    file: 'too-many-controls',
    // there are 18 stations, so that 21 controls cannot all have their own
    paths: ['controls', 'controls[18].station', 'controls[19].station', 'controls[20].station'],
    word: '0 to 20',
  },
  broken('control-not-an-object', 'controls[1]', 'null'),
  broken('id-missing', 'controls[0].id', 'nothing'),
  broken('id-empty', 'controls[0].id', '“”'),
  broken('id-too-long', 'controls[0].id', '8'),
  unseen('id-twice', 'controls[1].id', '“A” again', TWO_PLACES),
  broken('station-missing', 'controls[0].station', 'nothing'),
  broken('station-unknown', 'controls[0].station', 'P13'),
  unseen('station-twice', 'controls[1].station', '“P1” again', TWO_PLACES),
  broken('pulls-missing', 'controls[0].pulls', 'nothing'),
  broken('pull-not-an-object', 'controls[0].pulls[0]', 'an object'),
  unseen('neck-not-in-setup', 'controls[0].pulls[0].neck', '2', TWO_PLACES),
  broken('neck-nought', 'controls[0].pulls[0].neck', '0'),
  broken('string-missing', 'controls[0].pulls[0].string', 'nothing'),
  unseen('string-missing-on-neck', 'controls[0].pulls[0].string', '1 to 3', TWO_PLACES),
  broken('string-nought', 'controls[0].pulls[0].string', '0'),
  broken('string-not-whole', 'controls[0].pulls[0].string', '1.5'),
  broken('string-beyond-every-neck', 'controls[0].pulls[0].string', '1 to 14'),
  broken('semitones-missing', 'controls[0].pulls[0].semitones', 'nothing'),
  broken('semitones-nought', 'controls[0].pulls[0].semitones', 'not 0'),
  broken('semitones-too-far-up', 'controls[0].pulls[0].semitones', '8'),
  broken('semitones-too-far-down', 'controls[0].pulls[0].semitones', '-8'),
  broken('semitones-not-whole', 'controls[0].pulls[0].semitones', 'whole'),
  unseen('half-not-on-the-way', 'controls[0].pulls[0].half', 'on the way', TWO_PLACES),
  unseen('half-at-the-full-stop', 'controls[0].pulls[0].half', 'on the way', TWO_PLACES),
  unseen('half-beyond-the-full-stop', 'controls[0].pulls[0].half', 'on the way', TWO_PLACES),
  unseen('half-of-one-semitone', 'controls[0].pulls[0].half', 'no half-stop', TWO_PLACES),
  broken('half-nought', 'controls[0].pulls[0].half', 'not 0'),
  broken('pull-cents-too-few', 'controls[0].pulls[0].cents', '-100.5'),
  unseen('two-pulls-one-string', 'controls[0].pulls[1]', 'second pull', TWO_PLACES),
  broken('unknown-key-in-file', 'tuning', 'tuning'),
  broken('unknown-key-in-reach', 'reach.pedals', 'pedals'),
  broken('unknown-key-in-neck', 'necks[0].scale', 'scale'),
  broken('unknown-key-in-string', 'necks[0].strings[0].guage', 'guage'),
  broken('unknown-key-in-control', 'controls[0].foot', 'foot'),
  broken('unknown-key-in-pull', 'controls[0].pulls[0].semitone', 'semitone'),
  broken('proto-key', '__proto__', '__proto__'),
  {
    file: 'many-faults',
    paths: [
      'controls[0].pulls[0].half',
      'controls[0].pulls[0].string',
      'controls[0].pulls[1].semitones',
      'controls[0].pulls[2]',
      'controls[1].colour',
      'controls[1].id',
      'controls[1].pulls[0].neck',
      'controls[1].station',
      'controls[2].id',
      'controls[2].pulls',
      'controls[2].station',
      'frets',
      'mood',
      'necks[0].strings[0].open',
      'necks[0].strings[2].open',
      'notes',
    ],
    word: 'mood',
  },
];
