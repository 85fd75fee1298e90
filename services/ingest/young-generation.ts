/** MiB of heap of the writing thread for what was just made, three times the usual: a reading costs about a sixth less then. */
export const youngGenerationMb = 144;
