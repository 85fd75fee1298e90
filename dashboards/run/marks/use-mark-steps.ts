import { useSignal, type Signal } from '@preact/signals';
import type { Run } from '../../../shared/api-types/run.js';
import { goTo } from '../../shared/current-address.js';
import { onAxis, partAround, type Stretch } from '../run-places.js';
import { viewAddress, type CursorPlace, type RunView } from '../run-view.js';
import { markSentence } from './mark-text.js';
import { markWords } from './mark-words.js';
import { steppedMark, type RunMark } from './run-marks.js';

export interface MarkSteps {
  /** Number of the mark that was stepped to. */
  readonly chosen: number | null;
  /** The text of a live region about the last step. */
  readonly said: string;
  readonly go: (number: number) => void;
  readonly step: (way: 1 | -1) => void;
  /** Shows another stretch of the run than that of a mark. */
  readonly show: (stretch: Stretch) => void;
}

/** Steps from mark to mark: the traces show the mark with what lies beside it, the cursor moves to its beginning, and it is read out. */
export function useMarkSteps(run: Run, view: RunView, marks: readonly RunMark[], cursor: Signal<CursorPlace | null>): MarkSteps {
  const code = useSignal<string | null>(null);
  const found = marks.findIndex((mark) => mark.code === code.value);
  const chosen = found < 0 ? null : found;
  const show = (stretch: Stretch): void => {
    // If the place is not known, the time is.
    const axis = onAxis(view.axis, stretch) === null ? 'time' : view.axis;
    const part = onAxis(axis, stretch);
    if (part === null) return;
    cursor.value = { axis, at: stretch[axis]?.[0] ?? part[0] };
    const [from, to] = partAround(axis, part);
    goTo(viewAddress(run.id, { ...view, axis, from, to }));
  };
  const go = (number: number): void => {
    const mark = marks[number];
    if (mark === undefined) return;
    code.value = mark.code;
    show(mark.stretch);
  };
  const mark = chosen === null ? undefined : marks[chosen];
  return {
    chosen,
    said: mark === undefined ? '' : markWords().step((chosen ?? 0) + 1, marks.length, markSentence(mark)),
    go,
    step: (way) => {
      const next = steppedMark(marks.length, chosen, way);
      if (next !== null) go(next);
    },
    show: (stretch) => {
      code.value = null;
      show(stretch);
    },
  };
}
