import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { formatNumber } from '../shared/format.js';

/** What the run was assigned to be, as it was sent. */
export function AssignmentList({ run }: { readonly run: Run }): JSX.Element {
  const { assignment: own, procedure } = run;
  if (own === null) {
    return (
      <section>
        <h2>Assignment</h2>
        <p class="none">None was in force when the arc was lit; the run can be assigned afterwards.</p>
      </section>
    );
  }
  const items: (readonly [string, string | null])[] = [
    ['Seam', own.seam],
    ['Run', String(own.run)],
    ['Procedure', procedure === null ? (own.procedure === undefined ? null : `${own.procedure}: ${run.absent['procedure'] ?? 'not known'}`) : `${procedure.id}, revision ${procedure.revision}`],
    ['Purpose', own.purpose === 'testPiece' ? 'test piece' : (own.purpose ?? null)],
    ['Seam length', millimetres(own.seamLength)],
    ['Thickness', millimetres(own.thickness)],
    ['Side', own.side === undefined ? null : String(own.side)],
    ['Datum', own.datum ?? null],
    ['Start offset', millimetres(own.startOffset)],
    ['Direction', own.direction === undefined ? null : own.direction === 1 ? 'away from the datum' : 'towards the datum'],
    ['Run-on and run-off tab', own.runOn === undefined && own.runOff === undefined ? null : `${formatNumber(own.runOn, 1)} and ${formatNumber(own.runOff, 1)} mm`],
    ['What moves', own.motion === undefined ? null : own.motion === 'work' ? 'the work' : 'the carriage'],
    ['Diameter', millimetres(own.diameter)],
    ['Preheat, declared', own.preheat === undefined ? null : `${formatNumber(own.preheat, 0)} °C`],
    ['Operator', own.operator ?? null],
    ['Flux lot', own.fluxLot ?? null],
    ...(own.arcs ?? []).map((arc) => [`Wire of arc ${arc.arc}`, wireWords(arc)] as const),
  ];
  return (
    <section>
      <h2>Assignment</h2>
      <dl class="facts">
        {items.map(([label, value]) =>
          value === null ? null : (
            <div key={label}>
              <dt>{label}</dt>
              <dd>{value}</dd>
            </div>
          ),
        )}
      </dl>
    </section>
  );
}

function millimetres(value: number | undefined): string | null {
  return value === undefined ? null : `${formatNumber(value, 1)} mm`;
}

function wireWords(arc: { readonly wireDiameter?: number | undefined; readonly electrodeExtension?: number | undefined; readonly wireLot?: string | undefined }): string {
  const parts: string[] = [];
  if (arc.wireDiameter !== undefined) parts.push(`diameter ${formatNumber(arc.wireDiameter, 1)} mm`);
  if (arc.electrodeExtension !== undefined) parts.push(`electrode extension ${formatNumber(arc.electrodeExtension, 1)} mm`);
  if (arc.wireLot !== undefined) parts.push(`lot ${arc.wireLot}`);
  return parts.length === 0 ? 'nothing stated' : parts.join(', ');
}
