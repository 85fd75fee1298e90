/**
 * MiB of heap of the writing thread for what was just made, half as much again as usual: with more room for the young, less is copied about, but what it takes
 * it never gives back.
 */
export const youngGenerationMb = 72;

/**
 * MiB of old objects at which a thread looks for garbage for the first time; from then on V8 goes by what is alive. Left to itself it lets more than 100 MiB of
 * rows that are long written lie about while a log is imported.
 */
export const firstOldGenerationMb = 16;
