import type { IngestPort } from '../../ingest-port.js';
import { keepMeasurement, newMeasurement, withdrawnMeasurement, type GatheredTemperature } from '../writer/enter-temperature.js';
import { gatherEntered, gatherWithdrawn } from '../writer/gather-temperature.js';
import type { Recorder } from '../writer/recorder-options.js';
import type { StreamMemory } from '../writer/stream-memory.js';
import type { WorkerCalls } from './worker-protocol.js';

type TemperatureCalls = { readonly [Name in keyof Pick<IngestPort, 'enterTemperature' | 'withdrawTemperature'>]: (...args: WorkerCalls[Name]['args']) => WorkerCalls[Name]['answer'] };

/** What HTTP asks of the recorder about measured temperatures. */
export function temperatureCalls(recorder: Recorder): TemperatureCalls {
  return {
    enterTemperature: (where, entered) =>
      recorder.change((streams) => gatherEntered(where, (carriage, run) => newMeasurement(carriage, run, entered, streams.fold), streams), (found, streams) => {
        if ('failed' in found) return found;
        const { measured, carriage: { site, carriage } } = found;
        keep(found, streams);
        return { measured, site, carriage };
      }),
    withdrawTemperature: (where, id, signed) =>
      recorder.change((streams) => gatherWithdrawn(where, id, (own) => withdrawnMeasurement(own, signed, streams.fold), streams), (found, streams) => {
        if ('failed' in found) return found;
        keep(found, streams);
        return { ok: true as const };
      }),
  };
}

function keep(found: GatheredTemperature, streams: StreamMemory): void {
  keepMeasurement(found, streams);
  // Nothing more comes from a log.
  if (found.carriage.kind === 'log') streams.forget(found.carriage);
}
