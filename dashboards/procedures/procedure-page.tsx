import type { JSX } from 'preact';
import './procedures.css';
import { NewProcedure } from './new-procedure.js';
import { OneProcedure } from './one-procedure.js';

/**
 * The page of a procedure; with `edit=yes` the form that changes its latest revision. Without an id, or with `new`, it is the form for a new one, which `from` and `revision` make
 * a copy of another. `against` names the revision with which the shown one is compared.
 */
export function ProcedurePage({ id, query }: { readonly id?: string | undefined; readonly query: URLSearchParams }): JSX.Element {
  const revision = wholeOf(query.get('revision'));
  const from = query.get('from');
  if (id === undefined || (id === 'new' && revision === null && query.get('edit') === null)) return <NewProcedure key={`${from ?? ''}@${revision ?? ''}`} from={from} revision={revision} />;
  return <OneProcedure id={id} revision={revision} against={wholeOf(query.get('against'))} editing={query.get('edit') === 'yes'} />;
}

function wholeOf(text: string | null): number | null {
  const value = Number(text ?? Number.NaN);
  return Number.isInteger(value) && value > 0 ? value : null;
}
