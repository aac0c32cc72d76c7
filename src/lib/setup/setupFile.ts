/**
 * The shape of a setup file, formats 1 to 3. The published JSON Schema is made from this same description
 * (`npm run schema`), so that the two cannot drift. Rules that tie one place of the file to another
 * stand in `setupRules.ts`.
 */
import * as v from 'valibot';
import { BOUNDS } from './bounds';
import { STATIONS } from './setup';

/**
 * The formats that are read. Each says all that the one before it says, and more (`formats.ts`); what does not
 * need the newest is written as an older one, so that older programs read it.
 */
export const FORMATS = [1, 2, 3] as const;
/** The newest of them; older ones are brought up to it by `migrations.ts` where a step is needed. */
export const FORMAT = 3;

const whole = (bounds: readonly [number, number]) =>
  v.pipe(v.number(), v.integer(), v.minValue(bounds[0]), v.maxValue(bounds[1]));
const real = (bounds: readonly [number, number]) =>
  v.pipe(v.number(), v.minValue(bounds[0]), v.maxValue(bounds[1]));
const text = (bounds: readonly [number, number]) =>
  v.pipe(v.string(), v.minLength(bounds[0]), v.maxLength(bounds[1]));

const notes = v.exactOptional(text(BOUNDS.notes));
const cents = v.exactOptional(real(BOUNDS.cents));

const holesMm = v.exactOptional(
  v.pipe(v.array(real(BOUNDS.holeMm)), v.minLength(BOUNDS.holes[0]), v.maxLength(BOUNDS.holes[1])),
);

const StringShape = v.strictObject({
  // The letters only; whether the pitch can be heard is a rule of `setupRules.ts`.
  open: v.pipe(v.string(), v.regex(/^[A-Ga-g](##?|bb?|♯♯?|♭♭?|x|𝄪|𝄫)?-?[0-9]$/u)),
  gauge: v.exactOptional(real(BOUNDS.gauge)),
  wound: v.exactOptional(v.boolean()),
  coreGauge: v.exactOptional(real(BOUNDS.gauge)),
  cents,
  raiseHolesMm: holesMm,
  lowerHolesMm: holesMm,
  notes,
});

/** Combinations of controls by their ids. */
const combinations = (size: readonly [number, number]) =>
  v.exactOptional(
    v.pipe(
      v.array(v.pipe(v.array(text(BOUNDS.id)), v.minLength(size[0]), v.maxLength(size[1]))),
      v.maxLength(BOUNDS.exceptions[1]),
    ),
  );

const PullShape = v.strictObject({
  neck: v.exactOptional(whole(BOUNDS.necks)),
  string: whole(BOUNDS.strings),
  semitones: v.pipe(whole(BOUNDS.semitones), v.notValue(0)),
  half: v.exactOptional(v.pipe(whole(BOUNDS.semitones), v.notValue(0))),
  cents,
  halfCents: cents,
  splitCents: cents,
  leverage: v.exactOptional(real(BOUNDS.leverage)),
  hole: v.exactOptional(whole(BOUNDS.holes)),
  crank: v.exactOptional(whole(BOUNDS.holes)),
  notes,
});

const DropShape = v.strictObject({
  neck: v.exactOptional(whole(BOUNDS.necks)),
  string: whole(BOUNDS.strings),
  cents: real(BOUNDS.dropCents),
});

const ChangerShape = v.strictObject({
  raises: v.exactOptional(whole(BOUNDS.rods)),
  lowers: v.exactOptional(whole(BOUNDS.rods)),
  raiseHolesMm: holesMm,
  lowerHolesMm: holesMm,
  crankHolesMm: holesMm,
  shaftDepthMm: v.exactOptional(real(BOUNDS.shaftDepthMm)),
  shaftThickMm: v.exactOptional(real(BOUNDS.shaftThickMm)),
  rodMm: v.exactOptional(real(BOUNDS.rodMm)),
});

const ReachShape = v.strictObject({
  pedalsAtOnce: v.exactOptional(whole(BOUNDS.pedalsAtOnce)),
  kneeUpWithSideways: v.exactOptional(v.boolean()),
  never: combinations(BOUNDS.never),
  also: combinations(BOUNDS.also),
});

const NeckShape = v.strictObject({
  name: text(BOUNDS.name),
  strings: v.pipe(
    v.array(StringShape),
    v.minLength(BOUNDS.strings[0]),
    v.maxLength(BOUNDS.strings[1]),
  ),
  notes,
});

const ControlShape = v.strictObject({
  id: text(BOUNDS.id),
  station: v.picklist(STATIONS),
  pulls: v.pipe(v.array(PullShape), v.maxLength(BOUNDS.pulls[1])),
  travelMm: v.exactOptional(real(BOUNDS.travelMm)),
  forceN: v.exactOptional(real(BOUNDS.forceN)),
  springN: v.exactOptional(real(BOUNDS.springN)),
  slackMm: v.exactOptional(real(BOUNDS.slackMm)),
  shaftMm: v.exactOptional(real(BOUNDS.shaftMm)),
  turnDegrees: v.exactOptional(real(BOUNDS.turnDegrees)),
  mostTurnDegrees: v.exactOptional(real(BOUNDS.turnDegrees)),
  usage: v.exactOptional(real(BOUNDS.usage)),
  drops: v.exactOptional(v.pipe(v.array(DropShape), v.maxLength(BOUNDS.drops[1]))),
  notes,
});

/** The shape of a whole file. */
export const SetupShape = v.strictObject({
  format: v.picklist(FORMATS),
  name: text(BOUNDS.name),
  notes,
  frets: v.exactOptional(whole(BOUNDS.frets)),
  scaleLengthMm: v.exactOptional(real(BOUNDS.scaleLengthMm)),
  deadLengthMm: v.exactOptional(real(BOUNDS.deadLengthMm)),
  fingerRadiusMm: v.exactOptional(real(BOUNDS.fingerRadiusMm)),
  referenceHz: v.exactOptional(real(BOUNDS.referenceHz)),
  splitStops: v.exactOptional(v.boolean()),
  changer: v.exactOptional(ChangerShape),
  reach: v.exactOptional(ReachShape),
  necks: v.pipe(v.array(NeckShape), v.minLength(BOUNDS.necks[0]), v.maxLength(BOUNDS.necks[1])),
  controls: v.pipe(v.array(ControlShape), v.maxLength(BOUNDS.controls[1])),
});

/** The keys that each object of a file may have, in the order in which people are told them. */
export const KEYS = {
  setup: Object.keys(SetupShape.entries),
  changer: Object.keys(ChangerShape.entries),
  reach: Object.keys(ReachShape.entries),
  neck: Object.keys(NeckShape.entries),
  string: Object.keys(StringShape.entries),
  control: Object.keys(ControlShape.entries),
  pull: Object.keys(PullShape.entries),
  drop: Object.keys(DropShape.entries),
} as const satisfies Readonly<Record<string, readonly string[]>>;

/** A file whose shape is right. */
export type SetupFile = v.InferOutput<typeof SetupShape>;
