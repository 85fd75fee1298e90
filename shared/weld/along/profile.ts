import type { CoolingConditions } from '../cooling/cooling-conditions.js';
import { coolingTime } from '../cooling/cooling-time.js';
import { heatInput } from '../rows/heat-input.js';
import { measure, union } from '../rows/intervals.js';
import { profileBins, type BinsInput, type ProfileBin } from './profile-bins.js';
import type { Zone } from '../procedure/zone.js';

export interface ProfileInput extends BinsInput {
  readonly startOffset: number;
  readonly direction: 1 | -1;
  readonly thermalEfficiency: number;
  readonly cooling: CoolingConditions;
  /** The zones of the run's stretches, `[from, to)` in µs of corrected time; the first that fits counts. */
  readonly zones: readonly { readonly zone: Zone; readonly from: number; readonly to: number }[];
}

type Column = (number | null)[];

/** Columns along the seam; null where a figure cannot be given. Units: mm, kJ/mm, A, V, mm/min, s. */
export interface Profile {
  /** Start of the bin, as an arc's place: mm travelled for arc 1, less the offset for other arcs. */
  readonly travelled: readonly number[];
  /** Start of the bin from the seam's datum. */
  readonly seamPosition: readonly number[];
  /** Σ over the arcs that burnt there of their energy over their length there, times the thermal efficiency (EN 1011-1). */
  readonly heatInput: Column;
  /** Means over time for arc 1, or for the lowest arc that burnt there. */
  readonly current: Column;
  readonly voltage: Column;
  /** Length over time for the same arc. */
  readonly travelSpeed: Column;
  /** The cooling time by the bin's own heat input (EN 1011-2); null too where thickness or start temperature is not known. */
  readonly t85: Column;
  /** Share of the bin, 0 to 1, that an arc passed with values. */
  readonly covered: readonly number[];
  /** The zone of the run when the bin was first reached; null where no zone is given for that instant. */
  readonly zone: (Zone | null)[];
}

/** The run along its seam, bin by bin, in the order in which the bins were first reached; see `profileBins`. */
export function profile(input: ProfileInput): Profile {
  const bins = profileBins(input);
  const lead = bins.map((bin) => bin.arcs.reduce<ProfileBin['arcs'][number] | null>((a, b) => (a === null || b.arc < a.arc ? b : a), null));
  const ofLead = (figure: (content: ProfileBin['arcs'][number]) => number): Column =>
    lead.map((content) => (content !== null && content.on > 0 ? figure(content) : null));
  const heat = bins.map((bin) => heatOf(bin, input.thermalEfficiency));
  return {
    travelled: bins.map((bin) => bin.number * input.bin),
    seamPosition: bins.map((bin) => input.startOffset + input.direction * (bin.number * input.bin)),
    heatInput: heat,
    current: ofLead((content) => content.current / content.on),
    voltage: ofLead((content) => content.voltage / content.on),
    travelSpeed: ofLead((content) => (content.length / content.on) * 60),
    t85: heat.map((own) => coolingTime(own, input.cooling)?.value ?? null),
    covered: bins.map((bin) => Math.min(1, measure(union(bin.arcs.flatMap((content) => content.covered))) / input.bin)),
    zone: bins.map((bin) => input.zones.find(({ from, to }) => bin.reached >= from && bin.reached < to)?.zone ?? null),
  };
}

/** Heat input in kJ/mm, or null where nothing was covered or an arc burnt without moving. */
function heatOf(bin: ProfileBin, thermalEfficiency: number): number | null {
  if (bin.arcs.length === 0 || bin.arcs.some((content) => !(content.length > 0))) return null;
  return heatInput(bin.arcs, thermalEfficiency);
}
