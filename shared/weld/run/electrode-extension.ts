import type { Absence, Absences } from './absence.js';
import { ratioLimits } from '../procedure/extension-ratio.js';
import type { Window } from '../procedure/run-windows.js';
import type { RunWire } from '../procedure/zone.js';
import { extensionAt, meltingRate } from './melting-rate.js';
import { lastPiece, meansOf, type WeldEnds } from './weld-ends.js';
import { wireMass } from './wire-mass.js';

/** Mean current of the arc, A, and its feed, m/min, over one end of its weld zone. */
export interface EndMeans {
  readonly current: number;
  readonly wireFeedSpeed: number;
}

/** Electrode extension of an arc: as it was declared, and how much it seems to have changed; lengths mm. */
export interface ElectrodeExtension {
  readonly declared: number | null;
  readonly ratioToDiameter: number | null;
  /** Against the procedure's limits, and against 6 to 10 times the wire diameter (common practice, no source). */
  readonly procedure: 'inside' | 'outside' | null;
  readonly trade: 'inside' | 'outside' | null;
  /** By how much the extension has changed over the weld zone: an estimate, never a measurement. */
  readonly driftEstimate: number | null;
  readonly basis: string | null;
  /** What the estimate was made from: `factor` is the melted mass of the feed over that of the equation in the first 100 mm. */
  readonly estimatedFrom: { readonly factor: number; readonly first: EndMeans; readonly last: EndMeans } | null;
}

/** An estimate is made from the weld zone of an arc that is at least that long, mm. [own] */
const shortestWeld = 300;

const basis = 'an estimate: the melting-rate equation of Wilson, Claussen and Jackson (1956), fitted to current and wire feed speed of the first 100 mm of the weld zone and solved for the extension in the last 100 mm';

/** The figures of an arc's extension; reasons under `extension.NAME`. */
export function electrodeExtension(wire: RunWire, alternating: boolean, ends: WeldEnds | undefined, reasons: Absences): ElectrodeExtension {
  const { diameter, extension, extensionWindow } = wire;
  const undeclared: Absence | null = extension === null ? { code: 'noExtension' } : null;
  const noRatio = undeclared ?? (diameter === null ? { code: 'noDiameter' as const } : null);
  const found = driftOf(wire, alternating, ends);
  const drift = 'code' in found ? null : found;
  const why: Readonly<Record<string, Absence | null>> = {
    declared: undeclared, ratioToDiameter: noRatio, trade: noRatio,
    procedure: extensionWindow === null ? { code: 'noExtensionLimits' } : undeclared,
    driftEstimate: 'code' in found ? found : null,
  };
  for (const [name, own] of Object.entries(why)) if (own !== null) reasons[`extension.${name}`] = own;
  return {
    declared: extension,
    ratioToDiameter: extension === null || diameter === null ? null : extension / diameter,
    procedure: verdict(extension, extensionWindow),
    trade: verdict(extension, diameter === null ? null : ratioLimits(diameter)),
    driftEstimate: drift?.estimate ?? null, basis: drift === null ? null : basis, estimatedFrom: drift?.from ?? null,
  };
}

function verdict(value: number | null, window: Window | null): 'inside' | 'outside' | null {
  if (value === null || window === null) return null;
  const { min = -Infinity, max = Infinity } = window;
  return value < min || value > max ? 'outside' : 'inside';
}

interface Drift {
  readonly estimate: number;
  readonly from: NonNullable<ElectrodeExtension['estimatedFrom']>;
}

/** Less current at one feed is a longer extension: more of the wire is melted by the current that heats it on the way. Or why nothing can be said. */
function driftOf({ diameter, extension, count }: RunWire, alternating: boolean, ends: WeldEnds | undefined): Drift | Absence {
  if (alternating) return { code: 'alternatingCurrent' };
  if (extension === null) return { code: 'noExtension' };
  if (diameter === null) return { code: 'noDiameter' };
  if (ends === undefined || ends.length < shortestWeld - 1e-9) return { code: 'weldZoneShorter', length: shortestWeld };
  const first = meansOf(ends.first);
  const last = meansOf(lastPiece(ends));
  if (first.feed === null || last.feed === null) return { code: 'notSent', quantity: 'wireFeedSpeed' };
  const perMetre = wireMass(diameter, 1);
  const factor = (first.feed * perMetre) / meltingRate(first.current / count, diameter, extension);
  const estimate = extensionAt((last.feed * perMetre) / factor, last.current / count, diameter) - extension;
  if (!Number.isFinite(estimate)) return { code: 'noSuchExtension' };
  return { estimate, from: { factor, first: { current: first.current, wireFeedSpeed: first.feed }, last: { current: last.current, wireFeedSpeed: last.feed } } };
}
