/** Medians of a job, by tinybench: warmed up, then for a while. */
import { Bench } from 'tinybench';

/** Milliseconds of each job, the middle one of its runs; the jobs take turns in one process. */
export async function medians(
  jobs: Readonly<Record<string, () => unknown>>,
  time = 400,
  // tinybench runs each job 64 times at least where nothing is said: too often for what takes a second
  iterations = 64,
) {
  const warmupIterations = Math.min(20, Math.ceil(iterations / 4));
  const bench = new Bench({ time, iterations, warmupTime: 150, warmupIterations });
  for (const [name, job] of Object.entries(jobs)) bench.add(name, job);
  await bench.run();
  return new Map(
    bench.tasks.map(({ name, result }) => {
      if (result.state !== 'completed') throw new Error(`${name} ${result.state}`);
      return [name, result.latency.p50];
    }),
  );
}

export const ms = (value: number): string =>
  value >= 100 ? `${value.toFixed(0)} ms` : `${value.toFixed(2)} ms`;

export function print(heading: readonly string[], rows: readonly (readonly string[])[]): void {
  const lines = [heading, ...rows];
  const widths = heading.map((_, column) =>
    Math.max(...lines.map((line) => line[column]?.length ?? 0)),
  );
  for (const line of lines)
    console.log(
      line
        .map((text, column) =>
          column === 0 ? text.padEnd(widths[column] ?? 0) : text.padStart(widths[column] ?? 0),
        )
        .join('   '),
    );
  console.log('');
}
