import { firstSeed } from '../seeds.js';

/** What a fault scenario found. */
export interface Outcome {
  readonly scenario: string;
  readonly seed: number;
  /** What was done and counted, in words. */
  readonly counted: string;
  /** Broken promises, a line each. */
  readonly problems: readonly string[];
}

/** A new seed each time, or the one that SEED or CHECK_SEED names. */
export function seedFrom(): number {
  return firstSeed('SEED');
}

/** What a failed expectation shows: the seed first. */
export function shown({ scenario, seed, problems }: Outcome): string {
  return `${scenario}, SEED=${seed}: ${problems.length} problems\n${problems.slice(0, 20).join('\n')}`;
}

/** Runs a scenario under a new seed (or SEED), which is named also where it breaks off. */
export async function underSeed(scenario: (seed: number) => Promise<Outcome>): Promise<Outcome> {
  const seed = seedFrom();
  try {
    const outcome = await scenario(seed);
    console.log(`${outcome.scenario}: ${outcome.counted}, seed ${seed}`);
    return outcome;
  } catch (error) {
    throw new Error(`SEED=${seed}: ${error instanceof Error ? error.message : String(error)}`, { cause: error });
  }
}
