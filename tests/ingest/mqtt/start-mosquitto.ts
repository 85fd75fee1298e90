import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { chmodSync, existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { connect, createServer, type AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const PROGRAM = '/usr/sbin/mosquitto';

/** Whether Debian's Mosquitto is installed; without it, the tests that need it are skipped and say so. */
export const hasMosquitto = existsSync(PROGRAM);
if (!hasMosquitto) console.warn(`skipped: tests against a real broker need ${PROGRAM} (Debian package mosquitto)`);

export interface Mosquitto {
  readonly url: string;
  readonly port: number;
  /** What the broker has logged so far. */
  log(): string;
  /** Kills the broker (SIGKILL): it keeps only what it had already written. */
  kill(): Promise<void>;
  /** Starts it again on the same port and directory, after `kill` or `pause`. */
  restart(): Promise<void>;
  /** Ends the broker (SIGTERM: it writes its sessions) so that `restart` continues with them. */
  pause(): Promise<void>;
  /** Ends it and removes its directory. */
  stop(): Promise<void>;
}

export async function freePort(): Promise<number> {
  const server = createServer();
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  server.close();
  await once(server, 'close');
  return port;
}

async function reachable(port: number): Promise<boolean> {
  const socket = connect(port, '127.0.0.1');
  try {
    await once(socket, 'connect');
    return true;
  } catch {
    return false;
  } finally {
    socket.destroy();
  }
}

/**
 * A Mosquitto on 127.0.0.1 with a directory and port of its own, that keeps sessions and queues without its usual limits.
 *
 * @param extra further lines for its configuration.
 */
export async function startMosquitto(extra: readonly string[] = []): Promise<Mosquitto> {
  const directory = mkdtempSync(join(tmpdir(), 'mosquitto-'));
  // Mosquitto started as root becomes the user mosquitto, who has to write its sessions there.
  chmodSync(directory, 0o777);
  const port = await freePort();
  const file = join(directory, 'mosquitto.conf');
  const lines = [
    `listener ${port} 127.0.0.1`,
    'allow_anonymous true',
    'persistence true',
    `persistence_location ${directory}/`,
    'max_queued_messages 0',
    'max_inflight_messages 0',
    'log_dest stderr',
    'log_type all',
    ...extra,
  ];
  writeFileSync(file, `${lines.join('\n')}\n`);

  let child: ChildProcess | null = null;
  let logged = '';

  async function run(): Promise<void> {
    const started = spawn(PROGRAM, ['-c', file], { stdio: ['ignore', 'ignore', 'pipe'] });
    started.stderr.on('data', (chunk: Buffer) => {
      logged += chunk.toString();
    });
    child = started;
    for (let i = 0; i < 200; i++) {
      if (started.exitCode !== null) throw new Error(`mosquitto ended: ${logged}`);
      if (await reachable(port)) return;
      await new Promise((resolve) => setTimeout(resolve, 25));
    }
    throw new Error(`mosquitto is not reachable on port ${port}: ${logged}`);
  }

  async function end(signal: NodeJS.Signals): Promise<void> {
    const running = child;
    child = null;
    if (running?.exitCode !== null || running.signalCode !== null) return;
    const gone = once(running, 'exit');
    running.kill(signal);
    await gone;
  }

  await run();
  return {
    url: `mqtt://127.0.0.1:${port}`,
    port,
    log: () => logged,
    kill: () => end('SIGKILL'),
    restart: run,
    pause: () => end('SIGTERM'),
    async stop() {
      await end('SIGTERM');
      rmSync(directory, { recursive: true, force: true });
    },
  };
}
