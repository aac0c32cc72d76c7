/** A setup as a file: the way back of `readSetup`. Writing, reading and writing again changes nothing. */
import { pitchText } from '$lib/theory/pitch';
import type { Changer, Reach, Setup } from './setup';
import { leastFormat } from './formats';
import type { SetupFile } from './setupFile';

const reachFileOf = ({ never, also, ...rules }: Reach): NonNullable<SetupFile['reach']> => ({
  ...rules,
  ...(never === undefined ? {} : { never: never.map((ids) => [...ids]) }),
  ...(also === undefined ? {} : { also: also.map((ids) => [...ids]) }),
});

const changerFileOf = ({
  raiseHolesMm,
  lowerHolesMm,
  crankHolesMm,
  ...rest
}: Changer): NonNullable<SetupFile['changer']> => ({
  ...rest,
  ...(raiseHolesMm === undefined ? {} : { raiseHolesMm: [...raiseHolesMm] }),
  ...(lowerHolesMm === undefined ? {} : { lowerHolesMm: [...lowerHolesMm] }),
  ...(crankHolesMm === undefined ? {} : { crankHolesMm: [...crankHolesMm] }),
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
  changer,
  reach,
  necks,
  controls,
  ...rest
}: Setup): Omit<SetupFile, 'format'> => ({
  name,
  ...(notes === undefined ? {} : { notes }),
  ...rest,
  ...(changer === undefined ? {} : { changer: changerFileOf(changer) }),
  reach: reachFileOf(reach),
  necks: necks.map((neck) => ({
    ...neck,
    strings: neck.strings.map(({ raiseHolesMm, lowerHolesMm, ...string }) => ({
      ...string,
      open: pitchText(string.open),
      ...(raiseHolesMm === undefined ? {} : { raiseHolesMm: [...raiseHolesMm] }),
      ...(lowerHolesMm === undefined ? {} : { lowerHolesMm: [...lowerHolesMm] }),
    })),
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
