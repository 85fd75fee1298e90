import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { writeAddress } from '../shared/address.js';
import { carriageNow } from '../shared/carriages-now.js';
import { carriagesKnown } from '../shared/live-feed.js';
import { PageHeading } from '../shared/page-heading.js';
import { seamAndRun } from '../shared/common-words.js';
import { SelectField } from '../shared/form-parts.js';
import { JobForm } from './job-form.js';
import { jobWords } from './job-words.js';
import { nextJob, sameRun } from './next-job.js';
import { useLastJob } from './use-last-job.js';

/** The page for a carriage's job at a desk: give it one, correct it, or continue from the last one. */
export function JobPage({ site, carriage }: { readonly site: string; readonly carriage: string }): JSX.Element {
  const say = jobWords();
  const key = `${site}/${carriage}`;
  const own = carriageNow(key);
  return (
    <>
      <PageHeading title={say.title(carriage)} aside={site} />
      {own === undefined ? <p>{carriagesKnown.value ? say.noSuchCarriage(carriage) : say.loading}</p> : <JobOf key={key} carriage={own} />}
    </>
  );
}

type Begin = 'now' | 'next' | 'empty';

function JobOf({ carriage }: { readonly carriage: Carriage }): JSX.Element {
  const say = jobWords();
  const { assignment } = carriage;
  const last = useLastJob(carriage);
  const chosen = useSignal<Begin | null>(null);
  const saved = useSignal(0);
  const next = last == null ? null : nextJob(last);
  const begin = chosen.value ?? (assignment !== null ? 'now' : next !== null ? 'next' : 'empty');
  const start: AssignmentAnswer | null = begin === 'now' ? assignment : begin === 'next' ? next : null;
  const choices: readonly (readonly [Begin, string])[] = [
    ...(assignment === null ? [] : [['now', say.sameAgain] as const]),
    ...(next === null ? [] : [['next', say.lastPlusOne(seamAndRun(next))] as const]),
    ['empty', say.empty],
  ];
  if (last === undefined) return <p>{say.loading}</p>;
  return (
    <>
      <p role="status">
        {saved.value > 0 && say.saved} {assignment === null ? say.noJob : say.inForce(seamAndRun(assignment))}{' '}
        <a href={writeAddress(['station', carriage.site, carriage.carriage])}>{say.toCarriage}</a> · <a href={writeAddress(['sensors', carriage.site, carriage.carriage])}>{say.toSensors}</a>
      </p>
      {carriage.welding && <p>{say.whileWelding()}</p>}
      <p class="job-start">
        <SelectField label={`${say.startWith} `} value={begin} choices={choices} onChoose={(name) => { chosen.value = name as Begin; }} />
      </p>
      <JobForm
        key={`${begin} ${saved.value} ${start === null ? '' : seamAndRun(start)}`}
        target={{ site: carriage.site, carriage: carriage.carriage }}
        start={start}
        asksWhy={begin === 'now' && sameRun(start, assignment)}
        by={null}
        onSaved={() => {
          saved.value += 1;
          chosen.value = null;
        }}
      />
    </>
  );
}
