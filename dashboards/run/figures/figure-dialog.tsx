import type { JSX } from 'preact';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import type { Run } from '../../../shared/api-types/run.js';
import { language, unitSystem } from '../../shared/choices.js';
import { FactList, type Fact } from '../../shared/fact-list.js';
import { asStored, shown } from '../../shared/units.js';
import { runWords } from '../run-words.js';
import { absentText } from './absent-text.js';
import { arcFigures } from './arc-figure-list.js';
import type { Figure } from './figure.js';
import { figureWords } from './figure-words.js';
import { openFigure } from './figure-table.js';
import { runFigureGroups } from './run-figure-list.js';

/** The origin of the chosen figure: formula, inputs (each leads to its own origin), method and source. */
export function FigureDialog({ run }: { readonly run: Run }): JSX.Element {
  const dialog = useRef<HTMLDialogElement>(null);
  const figures = useMemo(
    () => new Map([...runFigureGroups(run).flatMap((group) => group.figures), ...run.arcs.flatMap(arcFigures)].map((figure) => [figure.key, figure])),
    [run, language.value, unitSystem.value],
  );
  const figure = openFigure.value === null ? undefined : figures.get(openFigure.value);
  const open = figure !== undefined;
  useEffect(() => {
    if (open && dialog.current?.open === false) dialog.current.showModal();
    if (!open) dialog.current?.close();
  }, [open]);
  useEffect(
    () => () => { openFigure.value = null; },
    [],
  );
  return (
    <dialog ref={dialog} class="figure-dialog" aria-labelledby="figure-title" onClose={() => { openFigure.value = null; }}>
      {figure !== undefined && <Origin figure={figure} figures={figures} run={run} />}
    </dialog>
  );
}

function Origin({ figure, figures, run }: { readonly figure: Figure; readonly figures: ReadonlyMap<string, Figure>; readonly run: Run }): JSX.Element {
  const say = figureWords();
  const { formula, inputs, source } = figure.origin;
  const heading = useRef<HTMLHeadingElement>(null);
  // Stepping to an input shows another figure: focus goes to its name, so that it is read out.
  useEffect(() => { heading.current?.focus(); }, [figure.key]);
  const facts: Fact[] = [
    [say.formula, <span class="formula">{formula}</span>],
    [say.inputs, inputs.length === 0 ? say.noInputs : (
      <ul class="inputs">
        {inputs.map(({ name, text, key }) => (
          <li key={name}>
            {key !== undefined && figures.has(key) ? <button type="button" class="figure-name" onClick={() => { openFigure.value = key; }}>{name}</button> : name} = {text}
          </li>
        ))}
      </ul>
    )],
    [say.method, runWords()[run.method]],
    [say.source, source],
    ...(figure.value === null ? [] : [[say.stored, asStored(figure.quantity, figure.value)] as const]),
    [say.openTrace, <a href={`api/runs/${encodeURIComponent(run.id)}/trace?points=20000`} target="_blank" rel="noreferrer">{`/api/runs/${run.id}/trace`}</a>],
  ];
  return (
    <>
      <h2 id="figure-title" ref={heading} tabIndex={-1}>{say.whereFrom(figure.of === undefined ? figure.label : `${figure.label}, ${figure.of}`)}</h2>
      <p class="figure-value">{figure.value === null ? say.because(figure.why === undefined ? say.notGiven : absentText(figure.why)) : shown(figure.quantity, figure.value)}</p>
      <FactList look="run-facts" facts={facts} />
      <p><button type="button" onClick={() => { openFigure.value = null; }}>{say.close}</button></p>
    </>
  );
}
