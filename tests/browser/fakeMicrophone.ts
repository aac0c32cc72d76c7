import { browserLaunch } from '../../scripts/lib/browserLaunch.mjs';

/** How a browser is started whose microphone, allowed beforehand, hears a WAV file, over and over. */
export const hearingFile = (file: string): ReturnType<typeof browserLaunch> =>
  browserLaunch(
    '--use-fake-device-for-media-stream',
    '--use-fake-ui-for-media-stream',
    `--use-file-for-fake-audio-capture=${file}`,
    '--autoplay-policy=no-user-gesture-required',
  );
