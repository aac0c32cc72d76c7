/** Hears grips off the page's thread; all it does is in `hearing/`. */
import { EchoWatch, echoOf } from '$lib/hearing/echo';
import { GripStream, readingsOf } from '$lib/hearing/stream';
import type { FromWorker, ToWorker } from './earMessages';

/** So many seconds after it was played a sound has come to the microphone, or never will. */
const ARRIVES_S = 0.45;
/** So often is told how loud it is. */
const LOUDNESS_S = 0.1;

const tell = (message: FromWorker): void => self.postMessage(message);

let stream: { readonly grips: GripStream; readonly sampleRate: number } | undefined;
let number = 0;
/** What seconds of the stream lie behind the microphone's clock. */
let began = 0;
let played: { readonly samples: Float32Array; readonly due: number } | undefined;
const echoes = new EchoWatch();
let loudnessDue = 0;
/** When the stroke fell that was told last, in seconds of the stream. */
let struck: number | undefined;
let waiting = false;

/** Blocks that came meanwhile are taken in first, so that what is looked at is the newest. */
function soon(): void {
  if (waiting) return;
  waiting = true;
  setTimeout(() => {
    waiting = false;
    look();
  }, 0);
}

function look(): void {
  if (stream === undefined) return;
  const { grips, sampleRate } = stream;
  if (grips.seconds >= loudnessDue) {
    loudnessDue = grips.seconds + LOUDNESS_S;
    tell({ say: 'loudness', at: began + grips.seconds, ...grips.loudness() });
  }
  if (played !== undefined && grips.seconds >= played.due) {
    const heard = grips.last(played.samples.length + Math.round(ARRIVES_S * sampleRate));
    const echo = echoOf(played.samples, heard);
    played = undefined;
    const found = echoes.look(echo?.clear ?? 0, (echo?.at ?? 0) / sampleRate);
    tell({ say: 'echo', heard: found });
  }
  if (grips.struck !== undefined && grips.struck !== struck)
    tell({ say: 'stroke', number, at: began + grips.struck });
  struck = grips.struck;
  const reading = grips.read();
  if (reading === undefined) return;
  const timed = reading.struck === undefined ? {} : { struck: began + reading.struck };
  tell({ say: 'reading', number, reading: { ...reading, at: began + reading.at, ...timed } });
}

self.onmessage = ({ data }: MessageEvent<ToWorker>) => {
  switch (data.say) {
    case 'expect':
      if (stream?.sampleRate !== data.sampleRate) {
        stream = { grips: new GripStream(data.sampleRate), sampleRate: data.sampleRate };
        loudnessDue = 0;
        played = undefined;
      }
      number = data.number;
      stream.grips.expect(data.hz, data.referenceHz);
      break;
    case 'sound':
      if (stream === undefined) return;
      began = data.at - stream.grips.seconds;
      stream.grips.push(data.samples, data.band);
      soon();
      break;
    case 'played':
      if (stream !== undefined)
        played ??= { samples: data.samples, due: stream.grips.seconds + ARRIVES_S };
      break;
    case 'take': {
      const { samples, sampleRate, grips, referenceHz, band } = data;
      tell({ say: 'take', readings: readingsOf(samples, sampleRate, grips, referenceHz, band) });
      break;
    }
  }
};
