import type { ComponentChildren, JSX } from 'preact';
import { wordsOf } from '../../shared/words.js';
import { markWords } from '../marks/mark-words.js';
import type { Axis } from '../run-view.js';
import { axisName } from './axis-scale.js';
import { panelWords } from './panel-words.js';
import type { TraceSteps } from './trace-steps.js';

interface TraceControlsProps {
  readonly axis: Axis;
  readonly whole: boolean;
  readonly marks: number;
  readonly busy: boolean;
  readonly steps: TraceSteps;
  readonly onAxis: (axis: Axis) => void;
  readonly children: ComponentChildren;
}

const axes: readonly Axis[] = ['time', 'travelled', 'seamPosition'];

/** Which axis, which part of it, and the steps from event to event; every step is an address, so Back undoes it. */
export function TraceControls({ axis, whole, marks, busy, steps, onAxis, children }: TraceControlsProps): JSX.Element {
  const say = wordsOf(panelWords);
  const mark = wordsOf(markWords);
  return (
    <div class="controls">
      <h2>{say.traces}</h2>
      <fieldset>
        <legend>{say.over}</legend>
        {axes.map((own) => (
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
