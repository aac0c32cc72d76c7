/**
 * Options as people write them, in the terminal and in addresses alike: short texts under names. What an
 * option looks like, how it is read and what is allowed stand in tables, and every table is read here.
 */
import { ok, refuse, type Fault, type Result } from '$lib/result';
import { prettySymbol } from '$lib/theory/display';
import type { Otherwise } from '$lib/theory/typedNames';
import type { Setup } from '$lib/setup/setup';

/** What is wrong with one option. */
export interface OptionFault<Part extends string = string> extends Fault {
  /** The option it is about. */
  readonly path: Part;
  /** The text makes no sense; or it does, and the setup or another option does not allow it. */
  readonly wrong: 'unreadable' | 'impossible';
  /** Where in the text the trouble is, where that is known; `allowed` is then a whole sentence. */
  readonly mark?: { readonly at: number; readonly length: number };
  /** Texts that were likely meant, most likely first. */
  readonly meant?: readonly string[];
}

/** An option about which one thing is said whenever it cannot be read. */
export interface PlainOption<T> {
  /**
   * What its texts look like before they are held against a setup: a text of this form that cannot be
   * read asks for something impossible. Where no form is told, it is unreadable.
   */
  readonly form?: RegExp;
  /** The value of a text without spaces around it; `undefined` where there is none. */
  readonly read: (text: string, setup: Setup) => T | undefined;
  /** What is allowed, as the end of a sentence. */
  readonly allowed: (setup: Setup) => string;
  /** What a text that cannot be read likely is in other names of notes. */
  readonly otherwise?: (text: string) => Otherwise | undefined;
}

/** An option that tells its faults itself. */
export interface TellingOption<T> {
  /** Read as an empty text where it is not given. */
  readonly needed?: boolean;
  /** Takes the text as it was written, so that a mark is in its place. */
  readonly tell: (text: string, setup: Setup) => Result<T, Omit<OptionFault, 'path'>>;
}

/** How one option is read. */
export type Option<T> = PlainOption<T> | TellingOption<T>;

/** Options by the names that they are written under, in the order in which their faults are told. */
export type OptionTable = Readonly<Record<string, Option<unknown>>>;

/** Texts by the same names; empty ones count as left out. */
export type TextsOf<Part extends string> = { readonly [part in Part]?: string | undefined };

type ValueOf<Each> = Each extends Option<infer T> ? T : never;

/** What was read of a table: a value for each option that is given and can be read, no other keys. */
export type OptionValues<Table> = { readonly [part in keyof Table]?: ValueOf<Table[part]> };

/** Reads every option of a table; each fault is told, under its option and in the table's order. */
export function readOptions<const Table extends OptionTable>(
  table: Table,
  setup: Setup,
  texts: TextsOf<keyof Table & string>,
): {
  readonly values: OptionValues<Table>;
  readonly faults: readonly OptionFault<keyof Table & string>[];
} {
  const values: Record<string, unknown> = {};
  const faults: OptionFault<keyof Table & string>[] = [];
  for (const path of Object.keys(table) as (keyof Table & string)[]) {
    const option = table[path] as Option<unknown>;
    const text = texts[path] ?? '';
    if (text.trim() === '' && !('needed' in option && option.needed)) continue;
    const read =
      'tell' in option ? option.tell(text, setup) : readPlain(option, setup, text.trim());
    if (read.ok) values[path] = read.value;
    else faults.push({ path, ...read.error });
  }
  return { values: values as OptionValues<Table>, faults };
}

function readPlain<T>(
  { form, read, allowed, otherwise }: PlainOption<T>,
  setup: Setup,
  text: string,
): Result<T, Omit<OptionFault, 'path'>> {
  const hasForm = form?.test(text);
  const value = hasForm === false ? undefined : read(text, setup);
  if (value !== undefined) return ok(value);
  const wrong = hasForm ? 'impossible' : 'unreadable';
  const found = `“${text}”`;
  const other = otherwise?.(text);
  if (other === undefined) return refuse({ found, allowed: allowed(setup), wrong });
  const { says, letters } = other;
  return refuse({
    found,
    allowed: `${allowed(setup)}; it ${says}, and may mean ${prettySymbol(letters)}`,
    wrong,
    meant: [letters],
  });
}

/** An option that is unreadable whatever is wrong with it. */
export const withoutForm = <T>({ read, allowed }: PlainOption<T>): PlainOption<T> => ({
  read,
  allowed,
});

/** What is wrong, without the name of the option: for a place that is labelled with it. */
export const foundText = ({ found, allowed }: Omit<Fault, 'path'>): string =>
  `found ${found}; allowed is ${allowed}.`;

/** A fault as a sentence; what is wrong at a marked place is one already. */
export const optionFaultText = (fault: OptionFault): string =>
  fault.mark === undefined ? `${fault.path}: ${foundText(fault)}` : fault.allowed;
