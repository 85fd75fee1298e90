import { Fragment, type JSX } from 'preact';
import { useRef, useState } from 'preact/hooks';
import { driftingArcNames, driftingRunNames } from '../../shared/weld/quantities.js';
import { TableHead } from '../shared/list-parts.js';
import { unitOf } from '../shared/units.js';
import { limitName } from './field-name.js';
import { limitQuantity, type WindowName } from './field-specs.js';
import { Input, type Section } from './fields.js';
import { formWords } from './form-words.js';
import { MeanHelp } from './mean-help.js';
import { NotMonitored } from './not-monitored.js';

/** Quantities that procedures give around a nominal value. */
const aroundMean: readonly WindowName[] = [...driftingArcNames, ...driftingRunNames];

/** Min and max of each quantity. */
export function WindowTable({ section, names, caption }: { readonly section: Section; readonly names: readonly WindowName[]; readonly caption: string }): JSX.Element {
  const say = formWords();
  const [open, setOpen] = useState<WindowName | null>(null);
  const table = useRef<HTMLTableElement>(null);
  const close = (name: WindowName): void => {
    setOpen(null);
    table.current?.querySelector<HTMLElement>(`button[data-help="${name}"]`)?.focus();
  };
  return (
    <table class="windows" ref={table}>
      <caption>{caption}</caption>
      <TableHead columns={[say.quantity, say.lowest, say.highest, say.unit, say.help]} />
      <tbody>
        {names.map((name) => {
          const quantity = limitQuantity(name);
          const label = limitName(name);
          const unit = quantity === null ? '' : unitOf(quantity);
          return (
            <Fragment key={name}>
              <tr>
                <th scope="row">{label} <NotMonitored name={name} /></th>
                <td data-title={say.lowest}><Input section={section} name={`${name}.min`} label={say.lowestOf(label, unit)} /></td>
                <td data-title={say.highest}><Input section={section} name={`${name}.max`} label={say.highestOf(label, unit)} /></td>
                <td class="unit">{unit}</td>
                <td>
                  {aroundMean.includes(name) && (
                    <button type="button" data-help={name} aria-expanded={open === name} aria-label={say.fromMeanOf(label)} onClick={() => { setOpen(open === name ? null : name); }}>
                      {say.fromMean}
                    </button>
                  )}
                </td>
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
