import type { JSX } from 'preact';

/** Stands at the foot of every page. */
export function Caution(): JSX.Element {
  return (
    <footer class="caution">
      Seamwarden records and warns. It is no safety device and no substitute for the emergency stop, the responsible welding coordinator, the governing code or local rules.
    </footer>
  );
}
