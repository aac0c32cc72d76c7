/** A Redis server and workers of the program for tests of the queue; each a process of its own. */
import { spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ensureBundle } from '../../../scripts/lib/build.mjs';
import { freePort } from '../../../scripts/lib/freePort.mjs';

/** Debian has it as the package redis-server. */
export const hasRedis = spawnSync('redis-server', ['--version']).status === 0;
/** What a certificate is made with. */
export const hasOpenssl = spawnSync('openssl', ['version']).status === 0;
if (!hasRedis) console.warn('redis-server is not installed: the queue is not tested.');

const answers = (port: number): Promise<boolean> =>
  new Promise((done) => {
    const socket = connect(port, '127.0.0.1');
    socket.once('connect', () => {
      socket.destroy();
      done(true);
    });
    socket.once('error', () => {
      done(false);
    });
  });

export class RedisServer {
  readonly port: number;
  readonly #folder = mkdtempSync(join(tmpdir(), 'gripwright-redis-'));
  readonly #more: readonly string[];
  #server: ChildProcess | undefined;

  private constructor(port: number, more: readonly string[]) {
    this.port = port;
    this.#more = more;
  }

  /** One that is asked over TLS with a certificate of its own, and by a password. */
  static async secured(password: string): Promise<RedisServer> {
    const port = await freePort();
    const server = new RedisServer(port, [
      ...['--port', '0', '--tls-port', String(port), '--requirepass', password],
      ...['--tls-cert-file', 'cert.pem', '--tls-key-file', 'key.pem', '--tls-auth-clients', 'no'],
    ]);
    spawnSync(
      'openssl',
      [
        ...['req', '-x509', '-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes'],
        ...['-keyout', 'key.pem', '-out', 'cert.pem', '-days', '2', '-subj', '/CN=queue'],
        ...['-addext', 'subjectAltName=IP:127.0.0.1'],
      ],
      { cwd: server.#folder },
    );
    await server.start();
    return server;
  }

  /** The file of its certificate. */
  get certificate(): string {
    return join(this.#folder, 'cert.pem');
  }

  static async started(...more: string[]): Promise<RedisServer> {
    const server = new RedisServer(await freePort(), more);
    await server.start();
    return server;
  }

  get url(): string {
    return `redis://127.0.0.1:${this.port}`;
  }

  async start(): Promise<void> {
    this.#server = spawn(
      'redis-server',
      ['--port', String(this.port), '--bind', '127.0.0.1', '--save', '', ...this.#more],
      { cwd: this.#folder, stdio: 'ignore' },
    );
    while (!(await answers(this.port))) await new Promise((done) => setTimeout(done, 50));
  }

  /** As a machine that loses its power: nothing of it is kept. */
  async kill(): Promise<void> {
    const server = this.#server;
    if (server?.exitCode !== null) return;
    server.kill('SIGKILL');
    await once(server, 'exit');
  }

  async end(): Promise<void> {
    await this.kill();
    rmSync(this.#folder, { recursive: true });
  }
}

/** A worker of the built program. */
export class WorkerProcess {
  readonly #process: ChildProcess;
  said = '';

  constructor(url: string, bundle: string, ...more: string[]) {
    this.#process = spawn(process.execPath, [
      bundle,
      ...['worker', '--queue', url, '--threads', '1', '--lock', '2', ...more],
    ]);
    for (const stream of [this.#process.stdout, this.#process.stderr])
      stream?.on('data', (text: Buffer) => (this.said += text.toString()));
  }

  static async started(url: string, ...more: string[]): Promise<WorkerProcess> {
    const worker = new WorkerProcess(url, await ensureBundle('gripwright'), ...more);
    while (!worker.said.includes('works for')) await new Promise((done) => setTimeout(done, 50));
    return worker;
  }

  async end(signal: 'SIGINT' | 'SIGKILL'): Promise<void> {
    if (this.#process.exitCode !== null || this.#process.signalCode !== null) return;
    this.#process.kill(signal);
    await once(this.#process, 'exit');
  }
}
