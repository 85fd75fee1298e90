import { systemClock, type CallOff, type Timers } from '../clock.js';
import type { ServiceAlarms } from '../alarms/service-alarms.js';

/** How long the connection may be down before an alarm is raised, ms; a restarted broker is back sooner. Common practice, no source. */
const awayForMs = 5_000;

/** Raises an alarm while an outside broker is not connected. `expected` says that we closed the connection, as we do while storage is unavailable. */
export function brokerAlarm(alarms: ServiceAlarms, expected: () => boolean, timers: Timers = systemClock): (up: boolean, reason: string | null) => void {
  let callOff: CallOff = () => undefined;
  return (up, reason) => {
    callOff();
    if (up) alarms.end('broker');
    else if (!expected()) {
      callOff = timers.after(awayForMs, () => {
        if (!expected()) alarms.raise('broker', reason ?? 'no connection to the MQTT broker');
      });
    }
  };
}
