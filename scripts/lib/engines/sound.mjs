// A sound card that nobody hears, and an ear at it: PulseAudio with a sink that leads nowhere.
import { spawn } from 'node:child_process';
import { mkdtempSync, existsSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { called } from './called.mjs';

const STARTS_MS = 10_000;
const FULL = 32_768;

/** Both programs, where they are there. */
export function findSound() {
  const server = called('pulseaudio');
  const recorder = called('parec');
  return server && recorder ? { server, recorder } : undefined;
}

/**
 * Starts it, for browsers that are given its `env`.
 *
 * @param {NonNullable<ReturnType<typeof findSound>>} programs
 */
export async function startSound({ server, recorder }) {
  const folder = mkdtempSync(join(tmpdir(), 'gripwright-sound-'));
  const socket = join(folder, 'native');
  const own = { ...process.env, HOME: folder, XDG_RUNTIME_DIR: folder };
  const env = { PULSE_SERVER: `unix:${socket}` };
  const modules = [
    'module-null-sink sink_name=heard',
    `module-native-protocol-unix socket=${socket} auth-anonymous=1`,
  ];
  const playing = spawn(
    server,
    [
      '-n',
      '--daemonize=no',
      '--use-pid-file=no',
      '--exit-idle-time=-1',
      ...modules.map((each) => `--load=${each}`),
    ],
    { stdio: 'ignore', env: own },
  );
  const end = Date.now() + STARTS_MS;
  while (!existsSync(socket)) {
    if (Date.now() > end) throw new Error('PulseAudio does not start.');
    await new Promise((done) => setTimeout(done, 50));
  }
  const format = ['--format=s16le', '--rate=44100', '--channels=1', '--latency-msec=50'];
  const hearing = spawn(recorder, ['-d', 'heard.monitor', ...format], {
    stdio: ['ignore', 'pipe', 'ignore'],
    env: { ...own, ...env },
  });
  let loudest = 0;
  hearing.stdout.on('data', (/** @type {Buffer} */ data) => {
    for (let at = 0; at + 1 < data.length; at += 2)
      loudest = Math.max(loudest, Math.abs(data.readInt16LE(at)) / FULL);
  });
  return {
    env,
    /** The loudest that was heard since this was asked before; 1 is the most there is. */
    loudest: () => {
      const heard = loudest;
      loudest = 0;
      return heard;
    },
    end: () => {
      hearing.kill();
      playing.kill();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
