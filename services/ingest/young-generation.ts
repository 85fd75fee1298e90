/** MiB of heap of the writing thread for what was just made, twice the usual: it fills up half as often, and less of it is still in use by then. */
export const youngGenerationMb = 96;
