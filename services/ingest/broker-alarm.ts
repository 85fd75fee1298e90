import type { ServiceAlarms } from './service-alarms.js';

/** ms without a connection after which that is an alarm; a broker that is started again is back sooner. Common practice, no source. */
const awayForMs = 5_000;

/**
 * Follows the connection to an outside broker. `expected` says that it is our own doing: where storage is away the
 * connection is given up until it is back.
 */
export function brokerAlarm(alarms: ServiceAlarms, expected: () => boolean): (up: boolean, reason: string | null) => void {
  let timer: NodeJS.Timeout | null = null;
  return (up, reason) => {
    if (timer !== null) clearTimeout(timer);
    timer = null;
    if (up) alarms.end('broker');
    else if (!expected()) {
      timer = setTimeout(() => {
        if (!expected()) alarms.raise('broker', reason ?? 'no connection to the MQTT broker');
      }, awayForMs);
    }
  };
}
