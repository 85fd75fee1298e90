import type { JSX } from 'preact';

export function NoRuns({ filtered }: { readonly filtered: boolean }): JSX.Element {
  if (filtered) {
    return (
      <section class="empty">
        <h2>No run fits these filters</h2>
        <p>
          Seam and carriage take the whole name, as it was assigned. <a href="#/runs">Show all runs</a>
        </p>
      </section>
    );
  }
  return (
    <section class="empty">
      <h2>No runs yet</h2>
      <p>
        A run begins by itself when an arc is lit: at 40 A and 10 V or more for 0.2 s, unless the service is set otherwise. A log of an earlier run can be read in
        with <code>npx seamwarden import FILE</code>.
      </p>
      <p>
        <a href="#/">See which carriages are connected</a>
      </p>
    </section>
  );
}
