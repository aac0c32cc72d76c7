/** `gripwright copedent`: a setup's chart as text, to paste into a message or a spreadsheet. */
import { CHART_FORMS, chartText, isChartForm } from '$lib/formats/write/chart';
import { writeOut } from './files';
import type { MakeJob } from './job';
import { loadSetup } from './loadSetup';
import { Refusal, print, printJson } from './out';

interface CopedentOptions {
  readonly setup: string;
  readonly as: string;
  readonly out?: string;
  readonly json?: boolean;
}

/** Adds the job `copedent`. */
export function addCopedent(job: MakeJob): void {
  job('copedent', 'the copedent as text to paste into a message')
    .option('--as <form>', `how: ${CHART_FORMS.join(', ')}`, 'text')
    .option('--out <file>', 'write it to a file instead')
    .action(async (options: CopedentOptions) => {
      await copedent(options);
    });
}

async function copedent({ setup: named, as: form, out, json }: CopedentOptions): Promise<void> {
  if (!isChartForm(form))
    throw new Refusal(`--as: found “${form}”; allowed are ${CHART_FORMS.join(', ')}.`, 2);
  const setup = loadSetup(named);
  const chart = chartText(setup, form);
  if (out !== undefined) await writeOut(out, new TextEncoder().encode(chart));
  if (json)
    printJson({ setup: setup.name, as: form, ...(out === undefined ? { chart } : { file: out }) });
  else
    print(
      out === undefined
        ? chart.replaceAll('\r\n', '\n').trimEnd()
        : `${out}: the chart of “${setup.name}”.`,
    );
}
