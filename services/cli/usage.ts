import type { Command } from 'commander';

/** Stands in what a command prints for people. */
export const caution =
  'Seamwarden records and warns. It is not a safety device and does not replace the emergency stop, the responsible welding coordinator, the governing code or local rules.';

/** Exit codes of every command. */
export const exitCodes = { success: 0, failed: 1, wrongUsage: 2 } as const;

/** Ends a command on wrong usage: one line that names the option, what it got and what was expected. */
export function wrongUsage(command: Command, option: string, got: string, takes: string): never {
  return command.error(`error: ${option}: got ${JSON.stringify(got)}, expected ${takes}`, { exitCode: exitCodes.wrongUsage });
}

/** Makes what Commander itself finds wrong (an unknown option, a missing argument) end with the code for wrong usage. */
export function exitOnWrongUsage(command: Command): Command {
  return command.exitOverride((error) => {
    // Errors raised by the commands have the right code; help ends with success.
    const own = error.code === 'commander.error' || error.exitCode === exitCodes.success;
    process.exit(own ? error.exitCode : exitCodes.wrongUsage);
  });
}

/** A number as a user types it, decimal; NaN for anything else. */
export function readNumber(text: string): number {
  return /^[+-]?(\d+(\.\d*)?|\.\d+)$/.test(text.trim()) ? Number(text) : Number.NaN;
}

/** A parser for an option that takes a number in a range. */
export function numberOption(command: Command, option: string, from: number, to: number, kind: 'whole' | 'decimal'): (text: string) => number {
  const whole = kind === 'whole';
  return (text) => {
    const value = readNumber(text);
    const fits = value >= from && value <= to && (!whole || Number.isInteger(value));
    return fits ? value : wrongUsage(command, option, text, `a ${whole ? 'whole ' : ''}number from ${from} to ${to}`);
  };
}
