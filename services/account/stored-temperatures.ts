import type { SqliteFile } from '../../shared/records/open-database.js';
import { readMeasurement, type TemperatureRow } from '../../shared/records/temperatures.js';
import type { TemperatureOf } from '../../shared/weld/run/assignment-timeline.js';
import { countingTemperature, runTemperatures, startTemperature } from '../../shared/weld/temperatures/run-temperatures.js';
import { sensorsOf } from '../../shared/weld/run/sensor-timeline.js';
import { assignmentAt } from '../../shared/weld/run/turn-series.js';
import type { WeldSettings } from '../../shared/weld/weld-settings.js';
import type { StoredCarriage } from './stored-carriage.js';

/** From which temperature each run of a carriage starts, by what is stored; `ids` are those of its runs by their ordinals. */
export function storedTemperatures(db: SqliteFile, { id: stream, timeline, sensors }: StoredCarriage, ids: ReadonlyMap<number, string>, { temperatureAge }: WeldSettings): TemperatureOf {
  const entered = db.prepare<[number], TemperatureRow>('select * from temperatures where stream_id = ? order by number').all(stream).map(readMeasurement);
  return (epoch, begin) => {
    const assignment = assignmentAt(timeline, epoch);
    const own = runTemperatures({ begin, run: ids.get(begin.ordinal) ?? null, assignment, entered, platePlace: sensorsOf(sensors, begin.sensors)?.plateTemperaturePlace ?? null, age: temperatureAge });
    return startTemperature(countingTemperature(own), assignment?.preheat);
  };
}
