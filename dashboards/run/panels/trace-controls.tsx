import type { ComponentChildren, JSX } from 'preact';
import { markWords } from '../marks/mark-words.js';
import type { Axis } from '../run-view.js';
import { axisName } from './axis-scale.js';
import { panelWords } from './panel-words.js';

interface TraceControlsProps {
  readonly axis: Axis;
  /** Whether the seam is a circumference, which has degrees. */
  readonly round: boolean;
  readonly whole: boolean;
  readonly marks: number;
  readonly busy: boolean;
  readonly steps: TraceSteps;
  readonly onAxis: (axis: Axis) => void;
  readonly children: ComponentChildren;
}

const axes: readonly Axis[] = ['time', 'travelled', 'seamPosition'];

/** Which axis, which part of it, and the steps from event to event; every step is an address, so Back undoes it. */
export function TraceControls({ axis, round, whole, marks, busy, steps, onAxis, children }: TraceControlsProps): JSX.Element {
  const say = panelWords();
  const mark = markWords();
  return (
    <div class="controls">
      <h2>{say.traces}</h2>
      <fieldset>
        <legend>{say.over}</legend>
        {[...axes, ...(round ? (['degrees'] as const) : [])].map((own) => (
          <label key={own}>
            <input type="radio" name="axis" checked={axis === own} onChange={() => { onAxis(own); }} /> {axisName(own)}
          </label>
        ))}
      </fieldset>
      <div class="steps" role="group" aria-label={say.part}>
        <button type="button" aria-keyshortcuts="+" aria-label={say.zoomIn} title={say.zoomIn} onClick={steps.zoomIn}>+</button>
        <button type="button" aria-keyshortcuts="-" aria-label={say.zoomOut} title={say.zoomOut} disabled={whole} onClick={steps.zoomOut}>−</button>
        <button type="button" aria-keyshortcuts="[" aria-label={say.panLeft} title={say.panLeft} disabled={whole} onClick={steps.earlier}>◀</button>
        <button type="button" aria-keyshortcuts="]" aria-label={say.panRight} title={say.panRight} disabled={whole} onClick={steps.later}>▶</button>
        <button type="button" aria-keyshortcuts="0" disabled={whole} onClick={steps.whole}>{say.whole()}</button>
      </div>
      <div class="steps" role="group" aria-label={mark.events}>
        <button type="button" aria-keyshortcuts="p" disabled={marks === 0} onClick={steps.previousMark}>{mark.previous}</button>
        <button type="button" aria-keyshortcuts="n" disabled={marks === 0} onClick={steps.nextMark}>{mark.next}</button>
      </div>
      {children}
      <p class="busy" role="status">{busy ? say.loading : ''}</p>
    </div>
  );
}

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
