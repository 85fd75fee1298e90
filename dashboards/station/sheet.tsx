import type { ComponentChildren, JSX } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';

/** The sheets that may cover the numbers for a while; none covers the headline or the alarm. */
export type SheetName = 'menu' | 'note' | 'shelve' | 'alarms' | 'checks' | 'who' | 'job' | 'material' | 'temperature';

/** A heading and its content. Escape closes the sheet, and so does the button in the rail. Focus moves into the sheet, as the button that opened it may be gone. */
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
      onKeyDown={({ key }) => { if (key === 'Escape') close(); }}
    >
      <h2>{title}</h2>
      <div class="sheet-body">{children}</div>
    </section>
  );
}
