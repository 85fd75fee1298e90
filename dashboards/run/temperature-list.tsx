import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { quantityWord } from '../shared/alarm-sentence.js';
import { FactList, type Fact } from '../shared/fact-list.js';
import { Mark } from '../shared/mark.js';
import { rangeWords } from '../shared/preparation-sentence.js';
import { formatDateTime } from '../shared/times.js';
import { shown } from '../shared/units.js';
import { capital } from '../shared/words.js';
import { temperatureListWords } from './temperature-list-words.js';

/** The temperature of the plate before the arc: each check, and every measurement with who took it and whether it counts. Nothing if there is neither. */
export function TemperatureList({ run }: { readonly run: Run }): JSX.Element | null {
  const say = temperatureListWords();
  const temperatures = run.temperatures ?? [];
  const checks = run.temperatureChecks ?? [];
  if (temperatures.length === 0 && checks.length === 0) return null;
  const verdicts: Fact[] = checks.map(({ quantity, min, max, value, verdict }) => {
    const range = rangeWords('temperature', { min, max });
    return [
      range === null ? capital(quantityWord(quantity)) : say.limitsOf(capital(quantityWord(quantity)), range),
      <><Mark name={verdict === 'inside' ? 'full' : verdict === 'outside' ? 'alert' : 'empty'} /> {[value === null ? null : shown('temperature', value), say[verdict]].filter((text) => text !== null).join(' · ')}</>,
    ];
  });
  return (
    <section>
      <h2>{say.title}</h2>
      <FactList look="run-facts" facts={verdicts} />
      {temperatures.length === 0 ? <p class="none">{say.none}</p> : (
        <ul class="temperatures">
          {temperatures.map((own) => (
            <li key={own.id ?? own.from}>
              <Mark name={own.used ? 'full' : own.withdrawn === null ? 'empty' : 'crossed'} /> <strong>{shown('temperature', own.value)}</strong>{' '}
              {[say[own.kind], own.place === null ? say.placeUnknown : say[own.place], formatDateTime(own.at), ...details(own)].join(' · ')}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

function details({ from, by, instrument, distance, seamPosition, used, withdrawn }: NonNullable<Run['temperatures']>[number]): string[] {
  const say = temperatureListWords();
  return [
    from === 'entered' ? null : say[from], by, instrument,
    distance === null ? null : say.fromGroove(shown('fineLength', distance)),
    seamPosition === null ? null : say.atPlace(shown('length', seamPosition)),
    withdrawn === null ? (used ? say.counts : say.countsNot) : say.withdrawn(withdrawn.by, formatDateTime(withdrawn.at)),
  ].filter((text) => text !== null);
}
