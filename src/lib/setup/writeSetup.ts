/** A setup as a file: the way back of `readSetup`. Writing, reading and writing again changes nothing. */
import { pitchText } from '$lib/theory/pitch';
import type { Reach, Setup } from './setup';
import { leastFormat } from './formats';
import type { SetupFile } from './setupFile';

const reachFileOf = ({ never, also, ...rules }: Reach): NonNullable<SetupFile['reach']> => ({
  ...rules,
  ...(never === undefined ? {} : { never: never.map((ids) => [...ids]) }),
  ...(also === undefined ? {} : { also: also.map((ids) => [...ids]) }),
});

/** The first neck is not written: most setups have no other. */
const withoutFirstNeck = <T extends { readonly neck: number }>({ neck, ...rest }: T) =>
  neck === 1 ? rest : { neck, ...rest };

/**
 * The document of a setup's file, its parts in the order in which a person would tell them; of the
 * least format that can say it.
 */
export const setupFileOf = (setup: Setup): SetupFile => {
  const said = partsOf(setup);
  return { format: leastFormat(said), ...said };
};

const partsOf = ({
  name,
  notes,
  reach,
  necks,
  controls,
  ...rest
}: Setup): Omit<SetupFile, 'format'> => ({
  name,
  ...(notes === undefined ? {} : { notes }),
  ...rest,
  reach: reachFileOf(reach),
  necks: necks.map((neck) => ({
    ...neck,
    strings: neck.strings.map((string) => ({ ...string, open: pitchText(string.open) })),
  })),
  controls: controls.map(({ pulls, drops, ...control }) => ({
    ...control,
    pulls: pulls.map(withoutFirstNeck),
    ...(drops === undefined ? {} : { drops: drops.map(withoutFirstNeck) }),
  })),
});

/** The text of a setup's file. */
export const setupText = (setup: Setup): string =>
  `${JSON.stringify(setupFileOf(setup), undefined, 2)}\n`;
