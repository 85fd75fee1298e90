import { Fragment } from 'preact';
import type { JSX } from 'preact';
import { useContext, useRef, useState } from 'preact/hooks';
import { quantityWord, shownAs } from '../shared/alarm-sentence.js';
import { capital } from '../shared/capital.js';
import { unitOf } from '../shared/units.js';
import { wordsOf } from '../shared/words.js';
import type { WindowName } from './field-specs.js';
import { Input } from './fields.js';
import { FormContext } from './form-context.js';
import type { Section } from './form-context.js';
import { formWords } from './form-words.js';
import { MeanHelp } from './mean-help.js';

/** Quantities that procedures give around a mean value. */
const aroundMean: readonly WindowName[] = ['current', 'voltage', 'wireFeedSpeed', 'travelSpeed', 'heatInput'];

/** Lowest and highest value of each quantity; a revision that is only read shows those that it gives. */
export function WindowTable({ section, names, caption }: { readonly section: Section; readonly names: readonly WindowName[]; readonly caption: string }): JSX.Element | null {
  const { readOnly } = useContext(FormContext);
  const say = wordsOf(formWords);
  const [open, setOpen] = useState<WindowName | null>(null);
  const table = useRef<HTMLTableElement>(null);
  const given = readOnly ? names.filter((name) => section.fields[`${name}.min`] !== undefined || section.fields[`${name}.max`] !== undefined) : names;
  if (given.length === 0) return null;
  const close = (name: WindowName): void => {
    setOpen(null);
    table.current?.querySelector<HTMLElement>(`button[data-help="${name}"]`)?.focus();
  };
  return (
    <table class="windows" ref={table}>
      <caption>{caption}</caption>
      <thead>
        <tr>
          <th scope="col">{say.quantity}</th>
          <th scope="col">{say.lowest}</th>
          <th scope="col">{say.highest}</th>
          <th scope="col">{say.unit}</th>
          {!readOnly && <th scope="col">{say.help}</th>}
        </tr>
      </thead>
      <tbody>
        {given.map((name) => {
          const quantity = shownAs(name);
          const label = capital(quantityWord(name));
          const unit = quantity === null ? '' : unitOf(quantity);
          return (
            <Fragment key={name}>
              <tr>
                <th scope="row">{label}</th>
                <td>
                  <Input section={section} name={`${name}.min`} label={say.lowestOf(label, unit)} />
                </td>
                <td>
                  <Input section={section} name={`${name}.max`} label={say.highestOf(label, unit)} />
                </td>
                <td class="unit">{unit}</td>
                {!readOnly && (
                  <td>
                    {aroundMean.includes(name) && (
                      <button type="button" data-help={name} aria-expanded={open === name} aria-label={say.fromMeanOf(label)} onClick={() => { setOpen(open === name ? null : name); }}>
                        {say.fromMean}
                      </button>
                    )}
                  </td>
                )}
              </tr>
              {open === name && quantity !== null && (
                <tr>
                  <td colSpan={5}>
                    <MeanHelp
                      window={name}
                      quantity={quantity}
                      onClose={() => { close(name); }}
                      onFill={(min, max) => {
                        section.set(`${name}.min`, min);
                        section.set(`${name}.max`, max);
                        close(name);
                      }}
                    />
                  </td>
                </tr>
              )}
            </Fragment>
          );
        })}
      </tbody>
    </table>
  );
}
