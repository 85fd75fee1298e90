import type { ReceivedItem } from '../../shared/weld/items/item.js';
import { valueAt } from '../../shared/weld/items/item.js';
import type { Random } from './seeded-random.js';
import type { ArcWindowName, PlainWindow, WindowProcedure } from './window-types.js';

/** A window with one or both ends among the values that occur, so that some lie outside and some flap around a limit. */
function windowAmong(random: Random, values: readonly number[]): PlainWindow {
  const pick = (): number => Math.round((random.pick(values) + random.between(-0.02, 0.02) * Math.abs(random.pick(values))) * 1000) / 1000;
  const [a, b] = [pick(), pick()].sort((x, y) => x - y) as [number, number];
  const shape = random.whole(0, 3);
  if (shape === 0) return { min: b };
  if (shape === 1) return { max: a };
  return a === b ? { max: a } : { min: a, max: b };
}

/** A procedure whose windows lie around the values in the items of a stream; times in s, lengths in mm. */
export function randomWindows(random: Random, items: readonly ReceivedItem[], id: string): WindowProcedure {
  const numbers = [...new Set(items.map((item) => item.arc))].sort((a, b) => a - b);
  const arcs = numbers.map((arc) => {
    const own = items.filter((item) => item.arc === arc);
    const among = (field: 'current' | 'voltage'): number[] =>
      own.map((item) => Math.abs(valueAt(item[field], random.whole(0, item.count - 1)))).filter((value) => value > 20);
    const windows: { [Name in ArcWindowName]?: PlainWindow } = {};
    const currents = among('current');
    const voltages = among('voltage');
    if (currents.length > 0 && random.chance(0.5)) windows.current = windowAmong(random, currents);
    if (voltages.length > 0 && random.chance(0.7)) windows.voltage = windowAmong(random, voltages);
    if (random.chance(0.2)) windows.wireFeedSpeed = random.pick<PlainWindow>([{ min: 1.1, max: 1.3 }, { min: 1.25 }, { max: 1.19 }]);
    if (random.chance(0.2)) windows.currentVariation = { max: random.pick([0.005, 0.02, 0.1]) };
    if (random.chance(0.2)) windows.voltageVariation = { max: random.pick([0.005, 0.02, 0.1]) };
    return { arc, offset: arc === 1 ? 0 : random.pick([0, 15, 40]) * (arc - 1), ...windows };
  });
  return {
    id,
    thermalEfficiency: random.pick([1, 0.9]),
    runGroups: [
      {
        runs: [1, 9],
        arcs,
        ...(random.chance(0.5) ? { travelSpeed: random.pick<PlainWindow>([{ min: 400, max: 570 }, { min: 500 }, { max: 580 }, { min: 310, max: 890 }]) } : {}),
        ...(random.chance(0.5) ? { heatInput: random.pick<PlainWindow>([{ max: 1.5 }, { min: 1, max: 3 }, { min: 1.4 }, { min: 2, max: 2.2 }]) } : {}),
      },
    ],
    alarm: {
      smoothing: random.pick([0, 0.1, 0.2, 0.5, 1, 1, 3]),
      onDelay: random.pick([0, 0.1, 0.3, 1, 1, 2.5]),
      offDelay: random.pick([0, 0.2, 1, 3, 3]),
      deadband: random.pick([0, 0.05, 0.2]),
      heatInputLength: random.pick([10, 50, 50, 80]),
      ignitionTime: random.pick([0.5, 2, 2]),
      ignitionLength: random.pick([1.3, 4.9, 14.3]),
      craterTime: random.pick([0.5, 2, 2]),
    },
  };
}
