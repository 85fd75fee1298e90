import type { ComponentChildren, JSX } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';

/** What may lie over the numbers, and goes again; never over the headline or the alarm. */
export type SheetName = 'menu' | 'note' | 'shelve' | 'alarms' | 'checks' | 'who' | 'job' | 'material';

/** A heading and what belongs to it; Escape leads back, as does the place in the rail that closes it. The press that opened it may be gone: those who use the keyboard go on here. */
export function Sheet({ title, close, focus, children }: { readonly title: string; readonly close: () => void; readonly focus?: unknown; readonly children: ComponentChildren }): JSX.Element {
  const place = useRef<HTMLElement>(null);
  useLayoutEffect(() => {
    const own = place.current;
    own?.querySelector<HTMLElement>('.sheet-body :is(input, button:not(:disabled), a)')?.focus();
  }, [focus]);
  return (
    <section
      ref={place}
      class="sheet"
      aria-label={title}
      onKeyDown={({ key }) => {
        if (key === 'Escape') close();
      }}
    >
      <h2>{title}</h2>
      <div class="sheet-body">{children}</div>
    </section>
  );
}
