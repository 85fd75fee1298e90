import type { JSX } from 'preact';
import type { Run } from '../../../shared/api-types/run.js';
import { formatDateTime } from '../../shared/times.js';
import { wordsOf } from '../../shared/words.js';
import { runTitle } from '../run-title.js';
import { panelWords } from './panel-words.js';
import { useComparable } from './use-compared.js';

interface CompareChoiceProps {
  readonly run: Run;
  readonly compared: string | null;
  /** The run that is chosen, once it is known. */
  readonly shown: Run | null;
  /** Why it is not known, once asking for it failed. */
  readonly failure: string | null;
  readonly onChoose: (other: Run | null) => void;
}

/** Chooses the run that is compared with this one. */
export function CompareChoice({ run, compared, shown, failure, onChoose }: CompareChoiceProps): JSX.Element | null {
  const say = wordsOf(panelWords);
  const { ofSeam, ofProcedure } = useComparable(run, true);
  const listed = [...ofSeam, ...ofProcedure];
  const extra = shown !== null && !listed.some(({ id }) => id === shown.id) ? [shown] : [];
  // One that the address names is chosen before anything is known of it.
  const awaited = compared !== null && ![...listed, ...extra].some(({ id }) => id === compared);
  if (listed.length === 0 && extra.length === 0 && !awaited) return null;
  const option = (own: Run): JSX.Element => <option key={own.id} value={own.id}>{say.compareRun(runTitle(own), formatDateTime(own.startedAt).slice(0, 16))}</option>;
  return (
    <label class="compare">
      {say.compare}{' '}
      <select value={compared ?? ''} onChange={(event) => { onChoose([...listed, ...extra].find(({ id }) => id === event.currentTarget.value) ?? null); }}>
        <option value="">{say.compareNone}</option>
        {awaited && <option value={compared}>{failure === null ? say.loading : say.compareUnknown}</option>}
        {extra.map(option)}
        {ofSeam.length > 0 && <optgroup label={say.seamOf(run.seam ?? '')}>{ofSeam.map(option)}</optgroup>}
        {ofProcedure.length > 0 && <optgroup label={say.compareProcedure(run.procedure?.id ?? '')}>{ofProcedure.map(option)}</optgroup>}
      </select>
    </label>
  );
}
