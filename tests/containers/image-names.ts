import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

export const root = fileURLToPath(new URL('../../', import.meta.url));

/** Images that are made here. */
export const madeBroker = 'seamwarden-tests/broker:here';
export const madeService = 'seamwarden-tests/service:here';

/** The broker's image that the compose file names. */
export function publicBroker(): string {
  const found = /image: (eclipse-mosquitto:\S+)/.exec(readFileSync(`${root}docker-compose.yml`, 'utf8'))?.[1];
  if (found === undefined) throw new Error('docker-compose.yml names no image for the broker');
  return found;
}
