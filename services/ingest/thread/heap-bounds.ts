import { setFlagsFromString } from 'node:v8';

/** Heap for new objects in the ingest thread, MiB. */
export const youngGenerationMb = 48;

/**
 * How far a heap may grow beyond its size after the last full collection, percent. The engine's default goes up to 300: while a log is imported, the
 * process then takes over 400 MiB, of which 30 are in use. This setting costs about a tenth more processor time in large commits, and nothing
 * measurable in small ones.
 */
export const heapGrowthPercent = 100;

/** Bounds the heaps of all threads of the process; call it before any of them is started. */
export function boundHeaps(): void {
  setFlagsFromString(`--heap-growing-percent=${heapGrowthPercent}`);
}

/**
 * Room for new objects doubles whenever many of them survive, as all do while modules are loaded, and for half a minute nothing makes it smaller: the
 * process would take some 30 MiB more than it needs while a log is imported soon after a start. Until `growAsNeeded` is called, it stays as it is.
 */
export function growLittle(): void {
  setFlagsFromString('--semi-space-growth-factor=1');
}

export function growAsNeeded(): void {
  setFlagsFromString('--semi-space-growth-factor=2');
}
