import type { JSX } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import type { CapabilityAnswer } from '../../shared/api-types/capability.js';
import { fetchProcedures } from '../procedures/procedure-api.js';
import { writeAddress } from '../shared/address.js';
import { fetchAll } from '../shared/api.js';
import { goTo } from '../shared/current-address.js';
import { EmptyList, NotRead } from '../shared/list-parts.js';
import { Mark } from '../shared/mark.js';
import { PageHeading } from '../shared/page-heading.js';
import { plantZone } from '../shared/service-facts.js';
import { Simulated } from '../shared/simulated.js';
import { formatDateTime } from '../shared/times.js';
import { decimalsOf, formatNumber, inUnit, unitOf } from '../shared/units.js';
import { useAnswer } from '../shared/use-answer.js';
import { CapabilityChart } from './capability-chart.js';
import { CapabilityChoices } from './capability-choices.js';
import { CapabilityFigures } from './capability-figures.js';
import { completed, fetchCapability, readChoice } from './capability-query.js';
import { capabilityWords } from './capability-words.js';
import './capability.css';
import { measureOf, pointSignals } from './point-signal.js';
import { RunValuesTable, SignalText } from './run-values-table.js';

/** How steady the runs of a procedure are in one quantity, and how well they fit between its limits. */
export function CapabilityPage({ query }: { readonly query: URLSearchParams }): JSX.Element {
  const say = capabilityWords();
  const known = useAnswer((signal) => fetchAll((page) => fetchProcedures(page, signal)), []);
  const asked = readChoice(query);
  const procedure = known.value?.find(({ id }) => id === asked.procedure) ?? null;
  const choice = procedure === null ? asked : completed(asked, procedure);
  const isReady = choice.procedure !== '' && known.value !== null;
  const answer = useAnswer(isReady ? (signal) => fetchCapability(choice, plantZone.value, signal) : null, [isReady, JSON.stringify(choice), plantZone.value]);
  return (
    <>
      <PageHeading title={choice.procedure === '' ? say.heading : say.headingOf(choice.procedure)}>{choice.simulated && <Simulated />}</PageHeading>
      {known.value !== null && <CapabilityChoices choice={choice} procedures={known.value} procedure={procedure} />}
      <NotRead of={known} />
      <NotRead of={answer} />
      {known.value !== null && choice.procedure === '' && <EmptyList title={say.choose}><p>{say.chooseMore()}</p></EmptyList>}
      {answer.value === null ? isReady && answer.failure === null && <p class="aside">{say.loading}</p> : <Shown answer={answer.value} />}
    </>
  );
}

function Shown({ answer }: { readonly answer: CapabilityAnswer }): JSX.Element {
  const say = capabilityWords();
  const [picked, choose] = useState<string | null>(null);
  const signals = useMemo(() => pointSignals(answer), [answer]);
  const { runs } = answer;
  const at = runs.findIndex(({ id }) => id === picked);
  const open = (index: number): void => {
    const own = runs[index];
    if (own !== undefined) goTo(writeAddress(['run', own.id]));
  };
  if (runs.length === 0) return <EmptyList title={say.none()}><p>{say.noneMore()}</p></EmptyList>;
  return (
    <>
      <p>{say.intro()}</p>
      {answer.few && <p class="note"><Mark name="warning" /> {say.few(runs.length)}</p>}
      {answer.unreadable !== undefined && <p class="note"><Mark name="warning" /> {say.unreadable(answer.unreadable)}</p>}
      <CapabilityChart answer={answer} signals={signals} chosen={at < 0 ? null : at} choose={(index) => { choose(runs[index]?.id ?? null); }} open={open} />
      <p class="aside capability-key">
        <span>{say.keyMean}</span> <span>{say.keyControl}</span> <span>{say.keyLimits}</span>{' '}
        <span><Mark name="full" /> {say.ordinary}</span> <span><Mark name="alert" /> {say.limitSignal}</span> <span><Mark name="square" /> {say.sideSignal}</span>
      </p>
      <p class="capability-point" aria-live="polite">{at >= 0 && <Point answer={answer} at={at} />}</p>
      <section class="part">
        <h2>{say.signals}</h2>
        {answer.signals.length === 0 ? <p>{say.noSignals}</p> : <Signals answer={answer} />}
      </section>
      <CapabilityFigures answer={answer} />
      <RunValuesTable answer={answer} signals={signals} />
    </>
  );
}

/** The run that was chosen in the chart. */
function Point({ answer, at }: { readonly answer: CapabilityAnswer; readonly at: number }): JSX.Element | null {
  const say = capabilityWords();
  const own = answer.runs[at];
  if (own === undefined) return null;
  const measure = measureOf(answer.quantity);
  return (
    <>
      {say.point(at + 1, answer.runs.length)} · {formatNumber(inUnit(measure, own.value), decimalsOf(measure) + 1)}{'\u00a0'}{unitOf(measure)} · {formatDateTime(own.endedAt)} ·{' '}
      <SignalText signal={pointSignals(answer)[at] ?? null} /> · <a href={writeAddress(['run', own.id])}>{say.open()}</a>
    </>
  );
}

function Signals({ answer }: { readonly answer: CapabilityAnswer }): JSX.Element {
  const say = capabilityWords();
  const numberOf = (id: string | undefined): number => answer.runs.findIndex((own) => own.id === id) + 1;
  return (
    <ul>
      {answer.signals.map(({ rule, runs }) => {
        const [first, last] = [numberOf(runs[0]), numberOf(runs.at(-1))];
        return (
          <li key={`${rule} ${first}`} class="signal">
            <Mark name={rule === 'limit' ? 'alert' : 'square'} /> {say.number} {first === last ? first : `${first}–${last}`}: {rule === 'limit' ? say.limitSignal : say.sideSignal}
          </li>
        );
      })}
    </ul>
  );
}
