import { figureDefinitions, formulaForms } from '../../../shared/weld/figures/figure-definitions.js';
import { grades, inputOrigins } from '../../../shared/weld/figures/grades.js';
import { averagingTexts, declaredTravelText, methodTexts } from '../../../shared/weld/figures/method-texts.js';
import { sourceTexts } from '../../../shared/weld/figures/source-texts.js';

/** The page of docs that lists the figures: `shared/weld/figures/README.md`, made from the definitions. */
export function figurePage(): string {
  return [
    '# The figures of a run',
    '',
    'Every figure of a run is defined once, in this folder; `GET /api/runs/{id}/figures`, the dialogs of the review page and this page are made from the definitions. `npx tsx tests/weld/figures/write-figure-page.ts` writes this page, and',
    '`tests/weld/figures/figure-page.test.ts` fails if it is not up to date.',
    '',
    'A name is the path in the run; `N` stands for the number of an arc, or for a place from 1 on in a list of restarts or data gaps. Σ adds such a term for each arc. A figure without formula is a sum over samples, a count or a place;',
    'its method says how it is made. The inputs put into the formula give the figure to nine digits. A formula and its inputs are in the units given, whatever units a page shows.',
    '',
    ...table(['figure', 'unit', 'formula', 'method', 'source', 'grade'], figureDefinitions.map((own) => [code(own.name), own.unit, formulaForms(own).map(code).join(', or '), methodTexts[own.method], code(own.source), own.grade])),
    '',
    `Where samples count, the method adds how those of the run were averaged: “${averagingTexts.instantaneous}” or “${averagingTexts.average}”; and where travel counts that its source only declares: “${declaredTravelText}”.`,
    '',
    '## Sources',
    '',
    ...table(['source', 'what it says'], Object.entries(sourceTexts).map(([name, text]) => [code(name), text])),
    '',
    '## Grades',
    '',
    ...table(['grade', 'means'], Object.entries(grades)),
    '',
    '## Where inputs come from',
    '',
    ...table(['from', 'means'], Object.entries(inputOrigins).map(([name, text]) => [code(name), text])),
    '',
  ].join('\n');
}

function table(head: readonly string[], rows: readonly (readonly string[])[]): string[] {
  return [head, head.map(() => '---'), ...rows].map((cells) => `| ${cells.map((own) => own.replaceAll('|', '\\|')).join(' | ')} |`);
}

function code(text: string): string {
  return `\`${text}\``;
}
