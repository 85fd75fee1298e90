import type { JSX } from 'preact';
import { ArcFields } from './arc-fields.js';
import { ChoiceInput, CountInput, NumberInput, TextInput, wrongText } from './job-field.js';
import type { TextField } from './job-draft.js';
import type { NumberField } from './job-fields.js';
import { jobWords } from './job-words.js';
import { ProcedureFields } from './procedure-fields.js';
import { wordsOf } from '../shared/words.js';
import type { JobFormState } from './use-job-form.js';

export interface SectionProps {
  readonly form: JobFormState;
  readonly id: string;
  readonly asksWhy: boolean;
  readonly inSteps: boolean;
}

interface JobSection {
  readonly title: () => string;
  readonly Fields: (props: SectionProps) => JSX.Element;
}

/** The parts of the form, in the order of the work; `sectionOf` says which field is where. */
export const jobSections: readonly JobSection[] = [
  { title: () => wordsOf(jobWords).seamSection(), Fields: SeamFields },
  { title: () => wordsOf(jobWords).procedure, Fields: ProcedureFields },
  { title: () => wordsOf(jobWords).placeSection, Fields: PlaceFields },
  { title: () => wordsOf(jobWords).wireSection, Fields: MaterialFields },
  { title: () => wordsOf(jobWords).signSection, Fields: SignFields },
];

function textProps({ form, id }: SectionProps, name: TextField): { readonly id: string; readonly value: string; readonly wrong: string | null; readonly onInput: (text: string) => void } {
  return {
    id: `${id}-${name}`,
    value: form.draft.texts[name],
    wrong: wrongText(form.wrong[name], null),
    onInput: (text) => {
      form.setText(name, text);
    },
  };
}

function numberProps({ form, id }: SectionProps, name: NumberField): { readonly id: string; readonly name: NumberField; readonly value: string; readonly wrong: string | null; readonly onInput: (text: string) => void } {
  return {
    id: `${id}-${name}`,
    name,
    value: form.draft.numbers[name],
    wrong: wrongText(form.wrong[name], name),
    onInput: (text) => {
      form.setNumber(name, text);
    },
  };
}

function SeamFields(props: SectionProps): JSX.Element {
  const say = wordsOf(jobWords);
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
  const say = wordsOf(jobWords);
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
    </>
  );
}

function MaterialFields(props: SectionProps): JSX.Element {
  const say = wordsOf(jobWords);
  return (
    <>
      <ArcFields {...props} />
      <TextInput label={say.fluxLot} {...textProps(props, 'fluxLot')} />
      <NumberInput label={say.preheat} {...numberProps(props, 'preheat')} />
    </>
  );
}

function SignFields(props: SectionProps): JSX.Element {
  const say = wordsOf(jobWords);
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
