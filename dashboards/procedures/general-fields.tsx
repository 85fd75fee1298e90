import type { JSX } from 'preact';
import { wordsOf } from '../shared/words.js';
import { fieldName } from './field-name.js';
import { Field } from './fields.js';
import { topRanges } from './field-specs.js';
import type { Section } from './form-context.js';
import { formWords } from './form-words.js';
import { partIds } from './page-parts.js';

/** The general fields of a procedure, and its material, joint and flux. */
export function GeneralFields({ section, isNew }: { readonly section: Section; readonly isNew: boolean }): JSX.Element {
  const say = wordsOf(formWords);
  return (
    <>
      <section class="part">
        <h2 id={partIds.general} tabIndex={-1}>{say.general}</h2>
        <div class="fields">
          {isNew && <Field section={section} name="id" label={say.id} hint={say.idHint} />}
          <Field section={section} name="title" label={say.title} wide />
          <Field section={section} name="process" label={say.process} hint={say.processHint} />
          <Field section={section} name="weldingPosition" label={say.weldingPosition} hint={say.weldingPositionHint} />
          <Field section={section} name="qualificationRecord" label={say.qualificationRecord} />
          <Field section={section} name="thermalEfficiency" label={say.thermalEfficiency} hint={say.thermalEfficiencyHint} />
        </div>
      </section>
      <section class="part">
        <h2 id={partIds.material} tabIndex={-1}>{say.material}</h2>
        <div class="fields">
          <Field section={section} name="parentMaterial" label={say.parentMaterial} hint={say.parentMaterialHint} wide />
          <Field section={section} name="parentMaterialGroup" label={say.parentMaterialGroup} hint={say.parentMaterialGroupHint} />
          {topRanges.map((name) => <RangeFields key={name} section={section} name={name} />)}
          <Field section={section} name="jointType" label={say.jointType} hint={say.jointTypeHint} />
          <Field section={section} name="jointPreparation" label={say.jointPreparation} hint={say.jointPreparationHint} wide />
          <Field section={section} name="backing" label={say.backing} />
          <Field section={section} name="fluxClassification" label={say.fluxClassification} hint={say.fluxClassificationHint} />
        </div>
      </section>
    </>
  );
}

function RangeFields({ section, name }: { readonly section: Section; readonly name: (typeof topRanges)[number] }): JSX.Element {
  const say = wordsOf(formWords);
  const hint = name === 'outsideDiameter' ? say.outsideDiameterHint : undefined;
  return (
    <>
      <Field section={section} name={`${name}.min`} label={fieldName(`${name}.min`)} hint={hint} />
      <Field section={section} name={`${name}.max`} label={fieldName(`${name}.max`)} hint={hint} />
    </>
  );
}
