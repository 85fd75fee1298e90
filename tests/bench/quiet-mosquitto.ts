import { hasMosquitto, startMosquitto, type Mosquitto } from '../ingest/mqtt/start-mosquitto.js';

/** A Mosquitto that queues without limit, in memory alone, and logs connections and subscriptions instead of packets: as fast as it can be. */
export function quietMosquitto(): Promise<Mosquitto> {
  if (!hasMosquitto) throw new Error('Mosquitto is not installed');
  return startMosquitto(['persistence false', 'log_type none', 'log_type error', 'log_type subscribe', 'log_type notice']);
}
