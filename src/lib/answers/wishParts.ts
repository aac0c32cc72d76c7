/** The names of wishes, for whoever keeps or addresses their texts and reads none of them. */
import type { TextsOf } from './options';

/** Wishes as they are written; each may be left out. */
export const WISH_PARTS = [
  'top',
  'bass',
  'match',
  'frets',
  'home',
  'sizes',
  'neck',
  'prefer',
  'avoid',
  'without',
  'must',
  'pocket',
  'end',
  'passes',
  'slants',
  'balance',
  'locks',
  'texture',
  'harmony',
  'measures',
  'notes',
  'strike',
  'signs',
] as const;
/** The name of a wish. */
export type WishPart = (typeof WISH_PARTS)[number];
/** Wishes as texts, by part. */
export type WishTexts = TextsOf<WishPart>;
