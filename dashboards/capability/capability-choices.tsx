import type { JSX } from 'preact';
import type { Procedure } from '../../shared/api-types/procedure.js';
import { capabilityNames, isOfArc } from '../../shared/weld/capability/capability-quantities.js';
import { writeAddress } from '../shared/address.js';
import { quantityWord } from '../shared/alarm-sentence.js';
import { goTo } from '../shared/current-address.js';
import { handleSubmit, SelectField, type SelectChoice } from '../shared/form-parts.js';
import { capital } from '../shared/words.js';
import { choiceQuery, groupArcs, groupNames, readChoice, type CapabilityChoice } from './capability-query.js';
import { capabilityWords } from './capability-words.js';

interface ChoicesProps {
  readonly choice: CapabilityChoice;
  readonly procedures: readonly Procedure[];
  readonly procedure: Procedure | null;
}

/** Procedure, quantity, arc, run group and period; written into the address, from which the page reads them. */
export function CapabilityChoices({ choice, procedures, procedure }: ChoicesProps): JSX.Element {
  const say = capabilityWords();
  const apply = (form: HTMLFormElement): void => {
    if (!form.reportValidity()) return;
    const query = new URLSearchParams();
    for (const [name, value] of new FormData(form)) if (typeof value === 'string') query.set(name, value);
    const next = readChoice(query);
    // Group and arc are those of one procedure.
    goTo(writeAddress(['capability'], choiceQuery(next.procedure === choice.procedure ? next : { ...next, runGroup: '', arc: '' })));
  };
  const groups = procedure === null ? [] : groupNames(procedure);
  const arcs = procedure === null || !isOfArc(choice.quantity) ? [] : groupArcs(procedure, choice.runGroup);
  const named = (names: readonly string[], own: string): SelectChoice[] => [...new Set([...names, ...(own === '' ? [] : [own])])].map((name) => [name, name]);
  return (
    <form class="filters capability-choices" aria-label={say.which()} onChange={(event) => { apply(event.currentTarget); }} onSubmit={handleSubmit(apply)}>
      <SelectField name="procedure" label={say.procedure} value={choice.procedure} choices={[['', say.choose], ...named(procedures.map(({ id }) => id), choice.procedure)]} />
      <SelectField name="quantity" label={say.quantity} value={choice.quantity} choices={capabilityNames.map((name) => [name, capital(quantityWord(name))] as const)} />
      {(groups.length > 0 || choice.runGroup !== '') && <SelectField name="runGroup" label={say.group()} value={choice.runGroup} choices={named(groups, choice.runGroup)} />}
      {arcs.length > 1 && <SelectField name="arc" label={say.arc} value={choice.arc} choices={named(arcs.map(String), choice.arc)} />}
      <label>{say.from}<input name="from" type="date" min="1970-01-01" max="2105-12-31" value={choice.from} /></label>
      <label>{say.to}<input name="to" type="date" min="1970-01-01" max="2105-12-31" value={choice.to} /></label>
      <label class="check"><input name="simulated" type="checkbox" value="true" checked={choice.simulated} /> {say.withSimulated()}</label>
    </form>
  );
}
