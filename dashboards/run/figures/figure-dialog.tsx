import type { JSX } from 'preact';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import type { RunFigureAnswer } from '../../../shared/api-types/figures.js';
import type { Run } from '../../../shared/api-types/run.js';
import { definitionOf, formulaForms } from '../../../shared/weld/figures/figure-definitions.js';
import { methodNotes } from '../../../shared/weld/figures/method-texts.js';
import { language, unitSystem } from '../../shared/choices.js';
import { FactList, type Fact } from '../../shared/fact-list.js';
import { NotRead } from '../../shared/list-parts.js';
import { asStored, shown } from '../../shared/units.js';
import { absentText } from './absent-text.js';
import { arcFigures } from './arc-figure-list.js';
import { FigureInputs } from './figure-inputs.js';
import type { Figure } from './figure.js';
import { figureWords } from './figure-words.js';
import { openFigure } from './figure-table.js';
import { formulaText } from './formula-text.js';
import { methodNoteWords, methodWords } from './method-words.js';
import { runFigureGroups } from './run-figure-list.js';
import { sourceWords } from './source-words.js';
import { useRunFigures } from './use-run-figures.js';
import { whereFromWords } from './where-from-words.js';

/** Where the chosen figure comes from: formula, inputs (each leads on to its own), method, source and grade. */
export function FigureDialog({ run }: { readonly run: Run }): JSX.Element {
  const dialog = useRef<HTMLDialogElement>(null);
  const figures = useMemo(
    () => new Map([...runFigureGroups(run).flatMap((group) => group.figures), ...arcFigures(run).flat()].map((figure) => [figure.key, figure])),
    [run, language.value, unitSystem.value],
  );
  const figure = openFigure.value === null ? undefined : figures.get(openFigure.value);
  const open = figure !== undefined;
  const answers = useRunFigures(run, open);
  useEffect(() => {
    if (open && dialog.current?.open === false) dialog.current.showModal();
    if (!open) dialog.current?.close();
  }, [open]);
  useEffect(
    () => () => { openFigure.value = null; },
    [],
  );
  const answer = answers.value?.items.find(({ name }) => name === figure?.key);
  return (
    <dialog ref={dialog} class="figure-dialog" aria-labelledby="figure-title" onClose={() => { openFigure.value = null; }}>
      {figure !== undefined && (
        <WhereFrom figure={figure} figures={figures} run={run} answer={answer}>
          {answers.value === null && answers.failure === null && <p class="none">{whereFromWords().reading}</p>}
          <NotRead of={answers} />
        </WhereFrom>
      )}
    </dialog>
  );
}

interface WhereFromProps {
  readonly figure: Figure;
  readonly figures: ReadonlyMap<string, Figure>;
  readonly run: Run;
  readonly answer: RunFigureAnswer | undefined;
  readonly children: readonly (JSX.Element | false)[];
}

function WhereFrom({ figure, figures, run, answer, children }: WhereFromProps): JSX.Element {
  const say = figureWords();
  const heading = useRef<HTMLHeadingElement>(null);
  // Stepping to an input shows another figure: focus goes to its name, so that it is read out.
  useEffect(() => { heading.current?.focus(); }, [figure.key]);
  const value = answer === undefined ? figure.value : answer.value;
  return (
    <>
      <h2 id="figure-title" ref={heading} tabIndex={-1}>{say.whereFrom(figure.of === undefined ? figure.label : `${figure.label}${say.comma}${figure.of}`)}</h2>
      <p class="figure-value">{value === null ? say.because(figure.why === undefined ? say.notGiven : absentText(figure.why)) : shown(figure.quantity, value)}</p>
      {children}
      {answer !== undefined && <FactList look="run-facts" facts={factsOf(answer, figure, figures, run)} />}
      <p><button type="button" onClick={() => { openFigure.value = null; }}>{say.close}</button></p>
    </>
  );
}

function factsOf(answer: RunFigureAnswer, figure: Figure, figures: ReadonlyMap<string, Figure>, run: Run): Fact[] {
  const say = figureWords();
  const from = whereFromWords();
  const { formula, inputs, value, grade } = answer;
  // A figure without a value is told by the formula that it would have.
  const forms = formula !== null ? [formula] : value === null ? generalForms(answer) : [];
  return [
    [say.formula, forms.length === 0 ? from.noFormula : <span class="formula">{forms.map(formulaText).join(say.comma)}</span>],
    [say.inputs, inputs.length === 0 ? say.noInputs : <FigureInputs of={answer} figures={figures} />],
    [say.method, methodOf(answer, run)],
    [say.source, sourceOf(answer)],
    [from.grade, from[grade]],
    ...(value === null ? [] : [[say.stored, asStored(figure.quantity, value)] as const]),
    [say.openTrace, <a href={`api/runs/${encodeURIComponent(run.id)}/trace?points=20000`} target="_blank" rel="noreferrer">{`/api/runs/${run.id}/trace`}</a>],
    [from.asJson, <a href={`api/runs/${encodeURIComponent(run.id)}/figures`} target="_blank" rel="noreferrer">{`/api/runs/${run.id}/figures`}</a>],
  ];
}

function generalForms({ name }: RunFigureAnswer): readonly string[] {
  const found = definitionOf(name);
  return found === undefined ? [] : formulaForms(found.definition);
}

/** In the chosen language; a figure that these pages do not know is told as the API tells it. */
function methodOf({ name, method }: RunFigureAnswer, run: Run): string {
  const code = definitionOf(name)?.definition.method;
  if (code === undefined) return method;
  const { averaging, declaredTravel } = methodNotes(code, run);
  const notes = methodNoteWords();
  const stop = language.value === 'zh' ? '。' : '. ';
  return [methodWords()[code], ...(averaging === null ? [] : [notes[averaging]]), ...(declaredTravel ? [notes.declaredTravel] : [])].join(stop);
}

function sourceOf({ name, source }: RunFigureAnswer): string {
  const code = definitionOf(name)?.definition.source;
  return code === undefined ? source : sourceWords()[code];
}
