import type { JSX } from 'preact';
import type { Procedure } from '../../shared/api-types/procedure.js';
import { runGroupOf } from '../../shared/weld/procedure/procedure-parameters.js';
import { Mark } from '../shared/mark.js';
import { ChoiceInput, CountInput, NumberInput, TextInput, wrongText } from './job-field.js';
import { arcFieldName, type ArcDraft, type TextField } from './job-draft.js';
import type { NumberField } from './job-fields.js';
import { jobWords } from './job-words.js';
import type { JobFormState } from './use-job-form.js';

export interface SectionProps {
  readonly form: JobFormState;
  readonly id: string;
  readonly asksWhy: boolean;
  readonly inSteps: boolean;
}

interface JobSection { readonly title: () => string; readonly Fields: (props: SectionProps) => JSX.Element }

/** The parts of the form, in the order of the work; `sectionOf` says which field is where. */
export const jobSections: readonly JobSection[] = [
  { title: () => jobWords().seamSection(), Fields: SeamFields },
  { title: () => jobWords().procedure, Fields: ProcedureFields },
  { title: () => jobWords().placeSection, Fields: PlaceFields },
  { title: () => jobWords().wireSection, Fields: MaterialFields },
  { title: () => jobWords().signSection, Fields: SignFields },
];

function textProps({ form, id }: SectionProps, name: TextField): { readonly id: string; readonly value: string; readonly wrong: string | null; readonly onInput: (text: string) => void } {
  return {
    id: `${id}-${name}`,
    value: form.draft.texts[name],
    wrong: wrongText(form.wrong[name], null),
    onInput: (text) => { form.setText(name, text); },
  };
}

function numberProps({ form, id }: SectionProps, name: NumberField): { readonly id: string; readonly name: NumberField; readonly value: string; readonly wrong: string | null; readonly onInput: (text: string) => void } {
  return {
    id: `${id}-${name}`,
    name,
    value: form.draft.numbers[name],
    wrong: wrongText(form.wrong[name], name),
    onInput: (text) => { form.setNumber(name, text); },
  };
}

function SeamFields(props: SectionProps): JSX.Element {
  const say = jobWords();
  const Count = props.inSteps ? CountInput : NumberInput;
  return (
    <>
      <TextInput label={say.seam} required {...textProps(props, 'seam')} />
      <Count label={say.run()} required {...numberProps(props, 'run')} />
      <Count label={say.sideLabel} {...numberProps(props, 'side')} />
      <ChoiceInput
        label={say.purpose}
        choices={[['', say.notSaid], ['production', say.production], ['testPiece', say.testPiece], ['repair', say.repair], ['tack', say.tack]]}
        {...textProps(props, 'purpose')}
      />
    </>
  );
}

function PlaceFields(props: SectionProps): JSX.Element {
  const say = jobWords();
  return (
    <>
      <NumberInput label={say.seamLength} {...numberProps(props, 'seamLength')} />
      <NumberInput label={say.thickness} {...numberProps(props, 'thickness')} />
      <TextInput label={say.datum} {...textProps(props, 'datum')} />
      <NumberInput label={say.startOffset} {...numberProps(props, 'startOffset')} />
      <ChoiceInput label={say.direction} choices={[['', say.notSaid], ['1', say.away], ['-1', say.towards]]} {...textProps(props, 'direction')} />
      <NumberInput label={say.runOn} {...numberProps(props, 'runOn')} />
      <NumberInput label={say.runOff} {...numberProps(props, 'runOff')} />
      <ChoiceInput label={say.motion} choices={[['', say.notSaid], ['carriage', say.carriage], ['work', say.work]]} {...textProps(props, 'motion')} />
      <NumberInput label={say.diameter} {...numberProps(props, 'diameter')} />
      {props.form.draft.texts.motion === 'work' && (
        <>
          <ChoiceInput label={say.turnIsRun()} choices={[['', say.oneRun()], ['true', say.nextRun()]]} {...textProps(props, 'turnIsRun')} />
          {props.form.draft.texts.turnIsRun === 'true' && <NumberInput label={say.lastRun()} {...numberProps(props, 'lastRun')} />}
        </>
      )}
    </>
  );
}

function MaterialFields(props: SectionProps): JSX.Element {
  const say = jobWords();
  return (
    <>
      <ArcFields {...props} />
      <TextInput label={say.fluxLot} {...textProps(props, 'fluxLot')} />
      <NumberInput label={say.preheat} {...numberProps(props, 'preheat')} />
    </>
  );
}

function SignFields(props: SectionProps): JSX.Element {
  const say = jobWords();
  const { form, id, asksWhy } = props;
  return (
    <>
      <TextInput label={say.operator} {...textProps(props, 'operator')} />
      <TextInput id={`${id}-by`} label={say.yourName} required value={form.by} wrong={form.wrong['by'] === undefined ? null : say.nameNeeded} onInput={form.setBy} />
      {asksWhy && (
        <TextInput
          id={`${id}-why`}
          label={say.reasonLabel}
          required
          value={form.why}
          wrong={form.wrong['why'] === undefined ? null : say.requiredWhy}
          onInput={form.setWhy}
          choices={[say.wrongEntry, say.planChanged, say.otherMaterial, say.wrongRun()]}
        />
      )}
    </>
  );
}

const most = 6;

/** What is declared for each arc: wire, lot, extension, and how much is on the spool. */
function ArcFields({ form, id }: SectionProps): JSX.Element {
  const say = jobWords();
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
  const say = jobWords();
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

type Group = NonNullable<Procedure['runGroups']>[number];

/** The procedure from a list, and which of its limits the run gets. */
function ProcedureFields({ form, id }: SectionProps): JSX.Element {
  const say = jobWords();
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
  const say = jobWords();
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
  const say = jobWords();
  const [from = 0, to = 0] = runs;
  return [name ?? say.unnamedGroup, say.groupRuns(from, to), ...(side === undefined ? [] : [say.groupSide(side)])].join(' · ');
}
