import type { JSX } from 'preact';

/** Marks what is invented. */
export function Simulated(): JSX.Element {
  return <span class="simulated">simulated</span>;
}
