import { signal } from '@preact/signals';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { fetchAlarms } from './api.js';
import { isLasting } from './alarm-sentence.js';

/** Active alarms of the service itself: storage, broker. The alarms of carriages come with their carriage. */
export const serviceAlarms = signal<readonly Alarm[]>([]);

const lasting = ['unacknowledged', 'acknowledged'] as const;

export function storeServiceAlarm(alarm: Alarm): void {
  const others = serviceAlarms.peek().filter(({ id }) => id !== alarm.id);
  if (isLasting(alarm)) serviceAlarms.value = [...others, alarm];
  else if (others.length < serviceAlarms.peek().length) serviceAlarms.value = others;
}

/** Reads the alarms that are active when the page opens, and those that were missed. */
export async function readServiceAlarms(): Promise<void> {
  const answers = await Promise.all(lasting.map(async (state) => await fetchAlarms({ state, limit: 1000 })));
  const found = answers.flatMap((answer) => (answer.ok ? answer.value.items : []));
  if (answers.every(({ ok }) => ok)) serviceAlarms.value = found.filter((alarm) => alarm.site === null && isLasting(alarm));
}
