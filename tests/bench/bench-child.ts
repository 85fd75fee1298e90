import { fork } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** A side of a comparison, or what loads it, in a process of its own: what one side spends is not the other's. */
export interface BenchChild {
  readonly pid: number;
  say(message: string): void;
  /** The next thing that it says; rejects where it ends instead. */
  hear(): Promise<unknown>;
  kill(): Promise<void>;
}

/** Starts a file of this folder with options that it finds with `childOptions`. */
export function startChild(file: string, options: object, execArgv: readonly string[] = []): BenchChild {
  const path = fileURLToPath(new URL(file, import.meta.url));
  const child = fork(path, [JSON.stringify(options)], { execArgv: ['--import', import.meta.resolve('tsx'), ...execArgv] });
  const heard: unknown[] = [];
  const waiting: { readonly resolve: (message: unknown) => void; readonly reject: (error: Error) => void }[] = [];
  child.on('message', (message) => {
    const next = waiting.shift();
    if (next === undefined) heard.push(message);
    else next.resolve(message);
  });
  const ended = new Promise<void>((resolve) => {
    child.once('exit', (code, signal) => {
      for (const next of waiting) next.reject(new Error(`${file} ended with ${String(code ?? signal)}`));
      resolve();
    });
  });
  return {
    pid: child.pid ?? -1,
    say: (message) => { child.send(message); },
    hear: () => (heard.length > 0 ? Promise.resolve(heard.shift()) : new Promise((resolve, reject) => waiting.push({ resolve, reject }))),
    kill: async () => {
      child.kill('SIGKILL');
      await ended;
    },
  };
}

/** Within the child: what it was started with. */
export function childOptions(): unknown {
  return JSON.parse(process.argv[2] ?? '{}') as unknown;
}

/** Within the child. */
export function tellParent(message: unknown): void {
  process.send?.(message);
}

/** Within the child: does something for each message of the parent. */
export function onParent(handle: (message: string) => void): void {
  process.on('message', (message) => { handle(message as string); });
}
