/** Options that were called otherwise once: scripts that name them so go on working. */

/** Of each job, as they were called and as they are called. */
const FORMER: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  arrange: { '--ways': '--arrangements' },
  strings: { '--beyond': '--over' },
};

/** The words of a call with its options as they are called today; `--option=value` too. */
export function withNamesOfToday(argv: readonly string[]): string[] {
  const names = FORMER[argv[0] ?? ''] ?? {};
  return argv.map((word) => {
    const [name = '', ...value] = word.split('=');
    return [names[name] ?? name, ...value].join('=');
  });
}
