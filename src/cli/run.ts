/** Reads the words of a call, does its job, and turns refusals into sentences and exit codes. */
import { Command, CommanderError } from 'commander';
import type { DocumentFault } from '$lib/faults';
import { callNotes } from '$lib/theory/noteNames';
import { addArrange } from './arrange';
import { addBetween } from './between';
import { addBook } from './book';
import { addChange } from './change';
import { check } from './check';
import { addCompare } from './compare';
import { addCopedent } from './copedent';
import { addCoverage } from './coverage';
import { withNamesOfToday } from './formerOptions';
import { addHear } from './hear';
import { jobsOf, onceEach, wholeNumber } from './job';
import { addLadder } from './ladder';
import { name } from './name';
import { addNext } from './next';
import { namesOf } from './options';
import { Refusal, beginAnswer, cleaned, printError, say, type ExitCode } from './out';
import { addPhrases } from './phrases';
import { addPropose } from './propose';
import { addPractice } from './practice';
import { addRead } from './read';
import { addRig } from './rig';
import { addScale } from './scale';
import { addSearches } from './queue/searches';
import { addWorker } from './queue/worker';
import { setups } from './setups';
import { addSheet } from './sheet';
import { addStrings } from './strings';
import { addSuggest } from './suggest';
import { callingAt, terminal, type Terminal } from './terminal';
import { addTuning } from './tuning';
import { voicings, type VoicingsOptions } from './voicings';

/** The program with all its jobs; made anew for each call, for it remembers what it was called with. */
function programWithJobs(): Command {
  const program = new Command('gripwright')
    .description('Finds, names and ranks every voicing that a pedal steel setup makes possible.')
    .helpCommand(false)
    .showHelpAfterError('(gripwright --help lists the jobs; gripwright JOB --help their options.)')
    .configureOutput({
      writeOut: (text) => terminal().out.write(text),
      writeErr: (text) => terminal().err.write(text),
      outputError: (text, write) => {
        write(cleaned(text.replace(/^error: /, '')));
      },
    })
    .exitOverride();

  const job = jobsOf(program);

  job('setups', 'list the built-in setups', false)
    .option('--setup <file or id>', 'has no effect here')
    .action((options: { json?: boolean }) => {
      setups(options);
    });

  job('check', 'check a setup file and list every fault', false)
    .argument('[file]', 'the setup file')
    .option('--setup <file or id>', 'the same as FILE; the id of a built-in setup too')
    .action((file: string | undefined, options: { json?: boolean; setup?: string }) => {
      if (file !== undefined && options.setup !== undefined)
        throw new Refusal('check: found FILE and --setup; allowed is one of them.', 2);
      const path = file ?? options.setup;
      if (path === undefined) throw new Refusal('check: the file to check is missing.', 2);
      check(path, options);
    });

  job('voicings', 'find the voicings of a chord, easiest first')
    .requiredOption('--chord <symbol>', 'the chord, such as C#m7 or F/C')
    .option('--neck <number>', 'one neck only, counted from 1')
    .option('--frets <range>', 'a fret or a range, such as 0-12')
    .option('--sizes <range>', 'how many strings at once, such as 3-4 (1 to 6)')
    .option(
      '--match <how>',
      'complete, partial (a fifth or an inner tone may be missing) or rootless',
    )
    .option('--grip <strings>', 'only these strings, such as 3,4,5')
    .option('--top <note>', 'the highest note, such as E4, or E in any octave')
    .option('--bass <note>', 'the lowest note, such as E2, or E in any octave')
    .option('--without <ids>', 'controls not to use, such as C,LKV')
    .option('--home <fret>', 'start from this fret; distance from it counts')
    .option('--slants <on or off>', 'slanted bar; on where the setup has no pedals')
    .option(
      '--balance <parts>',
      'weighting of feet, picking, bar and clarity, such as feet=2,bar=0.5',
    )
    .option('--key <key>', 'the key that degrees such as V7 count from')
    .option('--limit <number>', 'how many to show; 0 shows all', wholeNumber, 20)
    .action((options: VoicingsOptions) => {
      voicings(options);
    });

  job('name', 'name what sounds')
    .option('--neck <number>', 'the neck, counted from 1', '1')
    .option('--fret <fret>', 'where the bar lies', '0')
    .option('--controls <ids>', 'controls engaged, such as A,RKR:half', '')
    .option('--slant <frets>', 'frets by which the far end of the bar is ahead: -2 to 2', '0')
    .option('--strings <strings>', 'strings picked, such as 3,4,5; all where left out')
    .option('--notes <notes>', 'notes to name instead of what is engaged, such as "C4 E4 Bb4 D5"')
    .option('--key <key>', 'the key that decides the spelling, such as Eb or F#m')
    .action((options: Parameters<typeof name>[0]) => {
      name(options);
    });

  // A job that brings its options along is added by one line here.
  addCoverage(job);
  addCompare(job);
  addChange(job);
  addSuggest(job);
  addPropose(job);
  addSheet(job);
  addBook(job);
  addArrange(job);
  addStrings(job);
  addRig(job);
  addTuning(job);
  addHear(job);
  addPractice(job);
  addRead(job);
  addCopedent(job);
  addNext(job);
  addBetween(job);
  addPhrases(job);
  addScale(job);
  addLadder(job);
  addWorker(job);
  addSearches(job);
  onceEach(program);
  program.hook('preAction', (_, command) => {
    const { names, json } = command.opts<{ readonly names: string; readonly json?: boolean }>();
    const called = namesOf(names);
    // documents are written in letters whatever is typed
    callNotes(
      () => (json ? 'letters' : called),
      () => called,
    );
  });
  return program;
}

/** Says how a call failed: in a sentence, and where JSON was asked for in a document too. */
function failure(error: unknown, argv: readonly string[]): ExitCode {
  const fail = (told: string, code: ExitCode, faults?: readonly DocumentFault[]): ExitCode => {
    // as it was written: what commander refuses has no options yet
    if (argv.includes('--json')) printError(told, faults);
    return code;
  };
  if (error instanceof Refusal) {
    say(error.message);
    return fail(error.message, error.code, error.faults);
  }
  if (error instanceof CommanderError)
    // asking for help is no mistake; what is one, commander has told on the terminal
    return error.exitCode === 0 ? 0 : fail(error.message.replace(/^error: /, ''), 2);
  const message = error instanceof Error ? error.message : String(error);
  const sentence = `This is a mistake in Gripwright itself, not in what was asked: ${message}.`;
  say(sentence);
  if (process.env['GRIPWRIGHT_DEBUG']) console.error(error);
  return fail(sentence, 1);
}

/**
 * One call of the command line, from a terminal or from what stands in for one; never throws. Calls go one
 * after the other: the next may begin when this one has ended.
 *
 * @param argv the words behind the program's name
 */
export async function run(argv: readonly string[], at: Terminal): Promise<ExitCode> {
  callingAt(at);
  callNotes(() => 'letters');
  beginAnswer();
  try {
    await programWithJobs().parseAsync(withNamesOfToday(argv), { from: 'user' });
    return 0;
  } catch (error) {
    return failure(error, argv);
  }
}
