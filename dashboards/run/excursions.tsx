import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import type { ExcursionAnswer } from '../../shared/api-types/excursion.js';
import type { Run } from '../../shared/api-types/run.js';
import { fetchExcursions } from '../shared/api.js';
import { quantities, variationText, withUnit } from '../shared/quantities.js';
import { formatDateTime } from '../shared/times.js';
import { secondsFrom } from './run-places.js';
import { ShowPart } from './show-part.js';

/** Where the run was outside a window of its procedure. */
export function Excursions({ run }: { readonly run: Run }): JSX.Element {
  const found = useSignal<readonly ExcursionAnswer[] | null>(null);
  const { id, excursions, version, state } = run;
  useEffect(() => {
    const abort = new AbortController();
    const read = async (): Promise<void> => {
      try {
        const answer = await fetchExcursions(id, abort.signal);
        if (answer.ok) found.value = answer.value.items.toReversed();
      } catch (error) {
        if (!abort.signal.aborted) throw error;
      }
    };
    void read();
    return () => {
      abort.abort();
    };
  }, [id, excursions, version, state]);
  return (
    <section>
      <h2>Excursions</h2>
      {run.excursions === 0 ? (
        <p class="none">{run.procedure === null ? 'None: no procedure is known whose windows the run could leave.' : 'None: no judged value left its window for longer than the on-delay.'}</p>
      ) : (
        <ol class="events">
          {found.value?.map((own, at) => (
            <li key={own.id}>
              <strong>{nameOf(own)}</strong>: {valueOf(own, own.worst)} at worst, limit {valueOf(own, own.limit)}, from {formatDateTime(own.fromTime)} at{' '}
              {withUnit('travelled', own.fromTravelled)} {own.toTravelled === null ? 'and still outside' : `to ${withUnit('travelled', own.toTravelled)}`}
              {own.toSeamPosition !== null && ` (on the seam ${withUnit('seamPosition', own.fromSeamPosition)} to ${withUnit('seamPosition', own.toSeamPosition)})`}.{' '}
              <ShowPart run={run} what={`excursion ${at + 1}`} time={spanOf(run, own)} travelled={[own.fromTravelled, own.toTravelled ?? own.fromTravelled]} />
            </li>
          ))}
        </ol>
      )}
    </section>
  );
}

function spanOf(run: Run, own: ExcursionAnswer): readonly [number, number] {
  const from = secondsFrom(run, own.fromTime);
  return [from, own.toTime === null ? from : secondsFrom(run, own.toTime)];
}

const labels: Readonly<Record<string, string>> = {
  current: 'Current', voltage: 'Voltage', wireFeedSpeed: 'Wire feed speed', currentVariation: 'Current variation', voltageVariation: 'Voltage variation',
  travelSpeed: 'Travel speed', heatInput: 'Heat input along the seam', meanHeatInput: 'Mean heat input of the weld zone',
};

function nameOf({ quantity, arc }: ExcursionAnswer): string {
  const label = labels[quantity] ?? quantity;
  return arc === null ? label : `${label}, arc ${arc}`;
}

function valueOf({ quantity }: ExcursionAnswer, value: number): string {
  if (quantity === 'currentVariation' || quantity === 'voltageVariation') return variationText(value);
  if (quantity === 'meanHeatInput') return withUnit('heatInput', value);
  return isQuantity(quantity) ? withUnit(quantity, value) : String(value);
}

function isQuantity(name: string): name is keyof typeof quantities {
  return name in quantities;
}
