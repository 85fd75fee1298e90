import type { JSX } from 'preact';
import { wordsOf } from '../shared/words.js';
import { NumberInput, TextInput, wrongText } from './job-field.js';
import { arcFieldName, type ArcDraft } from './job-draft.js';
import { jobWords } from './job-words.js';
import type { SectionProps } from './job-sections.js';

const most = 6;

/** What is declared for each arc: wire, lot, extension, and how much is on the spool. */
export function ArcFields({ form, id }: SectionProps): JSX.Element {
  const say = wordsOf(jobWords);
  const { arcs } = form.draft;
  return (
    <div class="job-arcs">
      {arcs.map((own) => (
        <fieldset key={own.arc} class="job-arc">
          <legend>{say.arcLabel(own.arc)}</legend>
          <Arc own={own} form={form} id={`${id}-${own.arc}`} />
          {arcs.length > 1 && (
            <button type="button" class="push" aria-label={say.removeArc(own.arc)} onClick={() => { form.removeArc(own.arc); }}>
              {say.removeArc(own.arc)}
            </button>
          )}
        </fieldset>
      ))}
      {arcs.length < most && <button type="button" class="push" onClick={form.addArc}>{say.addArc}</button>}
    </div>
  );
}

function Arc({ own: { arc, texts }, form, id }: { readonly own: ArcDraft; readonly form: SectionProps['form']; readonly id: string }): JSX.Element {
  const say = wordsOf(jobWords);
  return (
    <>
      {(['wireDiameter', 'electrodeExtension', 'spoolMass'] as const).map((name) => (
        <NumberInput
          key={name}
          id={`${id}-${name}`}
          name={name}
          label={say[name]}
          value={texts[name]}
          wrong={wrongText(form.wrong[arcFieldName(arc, name)], name)}
          onInput={(text) => { form.setArc(arc, name, text); }}
        />
      ))}
      <TextInput id={`${id}-wireLot`} label={say.wireLot} value={texts.wireLot} wrong={wrongText(form.wrong[arcFieldName(arc, 'wireLot')], null)} onInput={(text) => { form.setArc(arc, 'wireLot', text); }} />
    </>
  );
}
