import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import type { Run } from '../../../shared/api-types/run.js';
import { SelectField } from '../../shared/form-parts.js';
import { TableHead } from '../../shared/list-parts.js';
import { formatRunTime } from '../../shared/times.js';
import { formatNumber, inUnit, unitOf } from '../../shared/units.js';
import { whyNoWindows, type WindowsNow } from '../windows/use-windows.js';
import { countText, kindWord, markText } from './mark-text.js';
import { markWords } from './mark-words.js';
import { markKinds, type MarkKind, type RunMark } from './run-marks.js';
import type { ExcursionsNow } from './use-excursions.js';

interface MarkListProps {
  readonly run: Run;
  readonly marks: readonly RunMark[];
  readonly chosen: number | null;
  readonly excursions: ExcursionsNow;
  readonly windows: WindowsNow;
  readonly onMark: (number: number) => void;
}

/** Zones, restarts, data gaps and excursions in the order in which they began; if there are none of a kind, why. */
export function MarkList({ run, marks, chosen, excursions, windows, onMark }: MarkListProps): JSX.Element {
  const say = markWords();
  const only = useSignal<MarkKind | ''>('');
  const listed = marks.map((mark, number) => ({ mark, number })).filter(({ mark }) => only.value === '' || mark.kind === only.value);
  return (
    <section class="marks">
      <div class="controls">
        <h2 id="events" tabIndex={-1}>{say.events}</h2>
        <SelectField
          label={say.only}
          value={only.value}
          choices={[['', `${say.all} (${marks.length})`], ...markKinds.map((kind) => [kind, countText(kind, marks.filter((mark) => mark.kind === kind).length)] as const)]}
          onChoose={(value) => { only.value = markKinds.find((kind) => kind === value) ?? ''; }}
        />
      </div>
      <ul class="missing">{missing(run, excursions, windows).map((text) => <li key={text}>{text}</li>)}</ul>
      {run.excursions > 0 && <p class="no-print"><a class="button" href={`api/runs/${encodeURIComponent(run.id)}/excursions?format=csv`} download>{say.csv}</a></p>}
      {listed.length > 0 && (
        <div class="scroll" tabIndex={0} role="region" aria-label={say.events}>
          <table class="mark-table">
            <TableHead
              columns={[
                say.mark, say.what,
                ...[say.begin, say.end].map((name) => ({ name, number: true, unit: say.minutesSeconds })),
                { name: say.travelled(unitOf('travelled')), number: true }, { name: say.onSeam(unitOf('seamPosition')), number: true },
                '',
              ]}
            />
            <tbody>
              {listed.map(({ mark, number }) => <MarkRow key={mark.code} mark={mark} chosen={number === chosen} onMark={() => { onMark(number); }} />)}
            </tbody>
          </table>
        </div>
      )}
    </section>
  );
}

function MarkRow({ mark, chosen, onMark }: { readonly mark: RunMark; readonly chosen: boolean; readonly onMark: () => void }): JSX.Element {
  const say = markWords();
  const [from, to] = mark.stretch.time;
  const lasts = mark.kind === 'excursion' && mark.excursion.toTime === null;
  return (
    <tr class={`mark-${mark.kind}`} aria-current={chosen ? 'true' : undefined}>
      <th scope="row"><span class="code">{mark.code}</span> {kindWord(mark.kind)}</th>
      <td>{markText(mark)}</td>
      <td class="number" data-label={say.begin}>{formatRunTime(from, 1)}</td>
      <td class="number" data-label={say.end}>{lasts ? say.lasting : formatRunTime(to, 1)}</td>
      <td class="number" data-label={say.travelled(unitOf('travelled'))}>{placesText(mark.stretch.travelled, lasts)}{degreesText(mark.stretch.degrees, lasts)}</td>
      <td class="number" data-label={say.onSeam(unitOf('seamPosition'))}>{placesText(mark.stretch.seamPosition, lasts)}</td>
      <td><button type="button" class="small" aria-label={say.showMark(mark.code)} onClick={onMark}>{say.zoomTo}</button></td>
    </tr>
  );
}

function placesText([from, to]: readonly [number | null, number | null], lasts: boolean): string {
  const digits = (at: number | null): string => formatNumber(at === null ? null : inUnit('travelled', at), unitOf('travelled') === 'in' ? 2 : 1);
  return from === to || lasts ? digits(from) : `${digits(from)} … ${digits(to)}`;
}

/** The same in degrees, below the mm. */
function degreesText(ends: readonly [number | null, number | null] | undefined, lasts: boolean): JSX.Element | null {
  if (ends === undefined || ends[0] === null) return null;
  const [from, to] = ends;
  const digits = (at: number | null): string => formatNumber(at, 1);
  return <><br /><small>{from === to || lasts ? digits(from) : `${digits(from)} … ${digits(to)}`}°</small></>;
}

/** For each kind of mark of which none is listed, a sentence that says why. */
function missing(run: Run, excursions: ExcursionsNow, windows: WindowsNow): string[] {
  const say = markWords();
  const why = whyNoWindows(windows, run);
  const sentences: string[] = [];
  if (excursions.failure !== null) sentences.push(excursions.failure.reason);
  else if (excursions.items === null) sentences.push(say.reading);
  else if (excursions.items.length === 0 && windows.is !== 'asking') sentences.push(why === null ? say.noExcursion : say.noExcursionUnjudged(why));
  if (run.restarts.length === 0) sentences.push(say.noRestart());
  if (run.dataGaps.length === 0) sentences.push(run.complete ? say.noGap : say.noGapIncomplete);
  return sentences;
}
