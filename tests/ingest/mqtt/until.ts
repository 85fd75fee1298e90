export const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

/** Waits for something to become true; fails with its name after `most` ms. */
export async function until(holds: () => boolean, what: string, most = 10_000): Promise<void> {
  const end = Date.now() + most;
  while (!holds()) {
    if (Date.now() > end) throw new Error(`waited ${most} ms in vain for: ${what}`);
    await pause(2);
  }
}
