import type { Carriage } from '../../shared/api-types/carriage.js';
import { judgedArcNames, judgedRunNames } from '../../shared/weld/quantities.js';
import { isActive } from '../shared/standing-alarms.js';
import type { Window } from '../shared/window-place.js';
import type { ShownQuantity } from '../shared/units.js';

export interface StationQuantity {
  readonly name: Extract<ShownQuantity, 'current' | 'voltage' | 'travelSpeed' | 'heatInput'>;
  /** null where it is the carriage's, or where there is one arc only. */
  readonly arc: number | null;
  readonly value: number | null;
  readonly window: Window | null;
  /** Whether what it is measured on burns. */
  readonly on: boolean;
  /** Whether an alarm of it is active: then it is out for sure. */
  readonly alarmed: boolean;
}

export interface StationLimit { readonly name: ShownQuantity; readonly arc: number | null; readonly window: Window }

/** Every limit that applies to the next run or the current one, whether or not anything has been heard of its arc. */
export function stationLimits({ windows }: Pick<Carriage, 'windows'>): readonly StationLimit[] {
  if (windows === null) return [];
  const many = windows.arcs.length > 1;
  const ofArcs = windows.arcs.flatMap((own) =>
    judgedArcNames.flatMap((name): StationLimit[] => (own[name] === undefined ? [] : [{ name, arc: many ? own.arc : null, window: own[name] }])),
  );
  const ofRun = judgedRunNames.flatMap((name): StationLimit[] => (windows[name] === undefined ? [] : [{ name, arc: null, window: windows[name] }]));
  return [...ofArcs, ...ofRun];
}

/** The values at the station: current and voltage arc by arc, then speed and the heat input of the newest stretch, which is the one that is judged. */
export function stationQuantities({ arcs, windows, welding, travelSpeed, localHeatInput, alarms }: Carriage): readonly StationQuantity[] {
  const many = arcs.length > 1;
  const alarmed = (quantity: string, arc: number | null): boolean => alarms.some((alarm) => isActive(alarm) && alarm.quantity === quantity && alarm.arc === arc);
  const ofArcs = arcs.flatMap(({ arc, on, current, voltage }): StationQuantity[] => {
    const own = windows?.arcs.find((one) => one.arc === arc);
    return [
      { name: 'current', arc: many ? arc : null, value: current, window: own?.current ?? null, on, alarmed: alarmed('current', arc) },
      { name: 'voltage', arc: many ? arc : null, value: voltage, window: own?.voltage ?? null, on, alarmed: alarmed('voltage', arc) },
    ];
  });
  return [
    ...ofArcs,
    { name: 'travelSpeed', arc: null, value: travelSpeed, window: windows?.travelSpeed ?? null, on: welding, alarmed: alarmed('travelSpeed', null) },
    { name: 'heatInput', arc: null, value: localHeatInput, window: windows?.heatInput ?? null, on: welding, alarmed: alarmed('heatInput', null) },
  ];
}
