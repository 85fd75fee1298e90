/** What buttons and keys do in the traces. */
export interface TraceSteps {
  readonly zoomIn: () => void;
  readonly zoomOut: () => void;
  readonly earlier: () => void;
  readonly later: () => void;
  readonly whole: () => void;
  readonly previousMark: () => void;
  readonly nextMark: () => void;
  /** Moves the cursor by so many rows. */
  readonly cursor: (rows: number) => void;
}

/** Rows that a step with Shift goes. */
const largeStep = 10;

/**
 * Performs the step that belongs to a key; returns whether there was one. Keys of single characters work only while the traces have the
 * focus (WCAG 2.2, 2.1.4), and no key is taken from a control that uses it itself.
 */
export function traceKey(event: Pick<KeyboardEvent, 'key' | 'shiftKey' | 'ctrlKey' | 'altKey' | 'metaKey' | 'target'>, steps: TraceSteps): boolean {
  if (event.ctrlKey || event.altKey || event.metaKey) return false;
  const onInput = event.target instanceof HTMLInputElement;
  const rows = event.shiftKey ? largeStep : 1;
  const done: Readonly<Record<string, (() => void) | undefined>> = {
    '+': steps.zoomIn, '=': steps.zoomIn, '-': steps.zoomOut, '0': steps.whole, '[': steps.earlier, ']': steps.later,
    n: steps.nextMark, N: steps.nextMark, p: steps.previousMark, P: steps.previousMark,
    ...(onInput ? {} : { ArrowLeft: () => { steps.cursor(-rows); }, ArrowRight: () => { steps.cursor(rows); } }),
  };
  const step = done[event.key];
  step?.();
  return step !== undefined;
}
