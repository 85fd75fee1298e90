/** MiB of heap of the writing thread for what was just made, twice the usual: a reading costs about a tenth less then, and the process stays under 300 MB beside an import. */
export const youngGenerationMb = 96;
