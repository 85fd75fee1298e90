import type { Absence, Absences } from './absence.js';
import type { ArcSums } from './arc-sums.js';
import type { RunSums } from './run-sums.js';
import { spreadOf } from '../rows/spread-sum.js';
import { unknownWire } from '../procedure/zone.js';
import { wireMass } from './wire-mass.js';

/**
 * What a run consumed and deposited: m of wire fed, kg of wire melted, kg of weld metal, kg of weld metal per hour of arc time and per m of weld,
 * and kg of flux.
 */
export interface Deposit {
  readonly wireLength: number | null;
  readonly wireMass: number | null;
  readonly mass: number | null;
  readonly rate: number | null;
  readonly massPerLength: number | null;
  readonly fluxMass: number | null;
}

const names = ['wireLength', 'wireMass', 'mass', 'rate', 'massPerLength', 'fluxMass'] as const;

/** The feed of an arc is known throughout if no more of its arc time is missing than rounding makes of two sums, s. */
const rounding = 1e-9;

/** Length that was fed of each of an arc's wires while it was on and sent, m: the integral of its feed. Null where the feed is unknown in part of that time. */
export function fedLength({ on, spreads }: Pick<ArcSums, 'on' | 'spreads'>): number | null {
  const feed = spreadOf(spreads, 'wireFeedSpeed');
  return on - feed.time > rounding * Math.max(1, on) ? null : feed.sum / 60;
}

/**
 * The deposit of a run. A sum that needs the feed or the diameter of an arc of which it is not known is null, and the reason names these arcs: no part
 * is given for the whole. Melted mass is (π/4)·d²·length·density for each wire [exact], weld metal that mass times the procedure's recovery (0.98 to 1.0
 * for submerged arc: conference slides on process variations), flux the weld metal times the procedure's `fluxRatio` (about 1: Saluja and Moeed).
 * `notPerLength` says why there is no figure per length, which is then that of arc energy.
 */
export function deposit({ arcs, on, parameters }: Pick<RunSums, 'arcs' | 'on' | 'parameters'>, notPerLength: Absence | null, reasons: Absences): Deposit {
  const melted = Object.keys(arcs).map(Number).sort((a, b) => a - b).flatMap((arc) => {
    const own = arcs[arc];
    return own === undefined ? [] : [{ arc, sums: own, fed: fedLength(own), wire: parameters.wires[arc] ?? unknownWire }];
  });
  const noFeed = absenceOf('feedUnknown', melted.filter(({ fed }) => fed === null));
  const noMass = noFeed ?? absenceOf('diameterUnknown', melted.filter(({ wire }) => wire.diameter === null));
  let wireLength = 0;
  let melting = 0;
  let mass = 0;
  let massPerLength = 0;
  for (const { sums, fed, wire } of melted) {
    const ownMass = (fed ?? 0) * wireMass(wire.diameter ?? 0, wire.count);
    wireLength += fed ?? 0;
    melting += ownMass;
    mass += ownMass * wire.recovery;
    if (sums.length > 0) massPerLength += (ownMass * wire.recovery) / (sums.length / 1e3);
  }
  const why: Readonly<Record<(typeof names)[number], Absence | null>> = {
    wireLength: noFeed, wireMass: noMass, mass: noMass, fluxMass: noMass,
    rate: noMass ?? (on > 0 ? null : { code: 'instant' }),
    massPerLength: noMass ?? notPerLength,
  };
  for (const name of names) {
    const own = why[name];
    if (own !== null) reasons[`deposit.${name}`] = own;
  }
  const given = (name: (typeof names)[number], value: number): number | null => (why[name] === null ? value : null);
  return {
    wireLength: given('wireLength', wireLength), wireMass: given('wireMass', melting), mass: given('mass', mass),
    rate: given('rate', mass / (on / 3600)), massPerLength: given('massPerLength', massPerLength), fluxMass: given('fluxMass', mass * parameters.fluxRatio),
  };
}

function absenceOf(code: 'feedUnknown' | 'diameterUnknown', unknown: readonly { readonly arc: number }[]): Absence | null {
  return unknown.length === 0 ? null : { code, arcs: unknown.map(({ arc }) => arc) };
}
