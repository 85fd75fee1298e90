import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { writeAddress } from '../shared/address.js';
import { carriageNow } from '../shared/carriages-now.js';
import { NotRead } from '../shared/list-parts.js';
import { PageHeading } from '../shared/page-heading.js';
import { formatDateTime } from '../shared/times.js';
import { useAnswer } from '../shared/use-answer.js';
import { fetchSensors } from './sensors-api.js';
import { SensorsForm } from './sensors-form.js';
import { sensorsWords } from './sensors-words.js';

/** Where the values of a carriage come from: what is declared, and the form that declares it anew. */
export function SensorsPage({ site, carriage }: { readonly site: string; readonly carriage: string }): JSX.Element {
  const say = sensorsWords();
  // A form that begins with an answer is not replaced while somebody fills it in.
  const known = useAnswer((signal) => fetchSensors(site, carriage, signal), [site, carriage], { by: [] });
  const saved = useSignal(0);
  const status = useRef<HTMLParagraphElement>(null);
  // The form begins anew with what was saved, and the button that had the focus is gone.
  useEffect(() => { if (saved.value > 0) status.current?.focus(); }, [saved.value]);
  const sent = carriageNow(`${site}/${carriage}`)?.arcs.map(({ arc }) => arc) ?? [];
  const declared = known.value?.declared ?? null;
  return (
    <>
      <PageHeading title={say.title(carriage)} aside={site} />
      <NotRead of={known} />
      {known.value === null ? known.failure === null && <p>{say.loading}</p> : (
        <>
          <p>{say.what()}</p>
          <p role="status" ref={status} tabIndex={-1}>
            {saved.value > 0 && `${say.saved} `}
            {declared === null ? say.none : say.declared(declared.revision, declared.by, formatDateTime(declared.at))}{' '}
            <a href={writeAddress(['station', site, carriage])}>{say.toStation}</a>
          </p>
          <SensorsForm
            key={saved.value}
            site={site}
            carriage={carriage}
            declared={declared}
            sent={sent}
            onSaved={(own) => {
              known.change(() => ({ declared: own }));
              saved.value += 1;
            }}
          />
        </>
      )}
    </>
  );
}
