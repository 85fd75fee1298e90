import { systemClock, type CallOff, type Timers } from '../clock.js';
import type { ServiceAlarms } from '../alarms/service-alarms.js';

/** ms without a connection after which that is an alarm; a broker that is started again is back sooner. Common practice, no source. */
const awayForMs = 5_000;

/**
 * Follows the connection to an outside broker. `expected` says that it is our own doing: where storage is away the
 * connection is given up until it is back.
 */
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
