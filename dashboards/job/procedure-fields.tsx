import type { JSX } from 'preact';
import type { Procedure } from '../../shared/api-types/procedure.js';
import { runGroupOf } from '../../shared/weld/procedure/procedure-parameters.js';
import { Mark } from '../shared/mark.js';
import { wordsOf } from '../shared/words.js';
import { ChoiceInput } from './job-field.js';
import { jobWords } from './job-words.js';
import type { SectionProps } from './job-sections.js';

type Group = NonNullable<Procedure['runGroups']>[number];

/** The procedure from a list, and which of its limits the run gets. */
export function ProcedureFields({ form, id }: SectionProps): JSX.Element {
  const say = wordsOf(jobWords);
  const { procedures, draft } = form;
  const chosen = draft.texts.procedure;
  const known = procedures ?? [];
  const choices = [
    ['', say.noProcedure] as const,
    ...known.map((own) => [own.id, own.title === undefined ? own.id : `${own.id} · ${own.title}`] as const),
    ...(chosen === '' || known.some((own) => own.id === chosen) ? [] : [[chosen, procedures === null ? chosen : say.unknownProcedure(chosen)] as const]),
  ];
  return (
    <>
      <div class="job-wide">
        <ChoiceInput id={`${id}-procedure`} label={say.procedure} value={chosen} wrong={null} onInput={(text) => { form.setText('procedure', text); }} choices={choices} />
      </div>
      {procedures === null && <p>{say.loading}</p>}
      <Groups procedure={known.find((own) => own.id === chosen)} run={draft.numbers.run} side={draft.numbers.side} />
    </>
  );
}

function Groups({ procedure, run, side }: { readonly procedure: Procedure | undefined; readonly run: string; readonly side: string }): JSX.Element | null {
  const say = wordsOf(jobWords);
  const groups = procedure?.runGroups ?? [];
  if (procedure === undefined) return null;
  const number = Number.parseInt(run, 10);
  const onSide = Number.parseInt(side, 10);
  const fits = Number.isNaN(number) ? undefined : runGroupOf(groups, { run: number, ...(Number.isNaN(onSide) ? {} : { side: onSide }) });
  return (
    <div class="job-groups">
      <p>{say.groups()}</p>
      <ul>
        {groups.map((own, index) => (
          <li key={index} class={own === fits ? 'job-group-fits' : undefined}>
            <Mark name={own === fits ? 'full' : 'empty'} /> {groupText(own)}
          </li>
        ))}
      </ul>
      {fits !== undefined && <p>{say.groupFits(groupText(fits))}</p>}
      {fits === undefined && !Number.isNaN(number) && <p><Mark name="warning" /> {say.noGroup(String(number))}</p>}
    </div>
  );
}

function groupText({ name, runs, side }: Group): string {
  const say = wordsOf(jobWords);
  const [from = 0, to = 0] = runs;
  return [name ?? say.unnamedGroup, say.groupRuns(from, to), ...(side === undefined ? [] : [say.groupSide(side)])].join(' · ');
}
