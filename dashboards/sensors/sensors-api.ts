import type { SensorsAnswer } from '../../shared/api-types/sensors.js';
import type { Sensors } from '../../shared/weld/procedure/sensors.js';
import { get, send, type Answer } from '../shared/api.js';

/** The newest declaration; null where nothing was declared yet. */
export async function fetchSensors(site: string, carriage: string, signal: AbortSignal): Promise<Answer<{ readonly declared: SensorsAnswer | null }>> {
  const answer = (await get(pathOf(site, carriage), {}, signal)) as Answer<SensorsAnswer>;
  if (answer.ok) return { ok: true, value: { declared: answer.value } };
  return answer.failure.status === 404 ? { ok: true, value: { declared: null } } : answer;
}

export async function putSensors(site: string, carriage: string, sensors: Sensors, by: string): Promise<Answer<SensorsAnswer>> {
  return (await send('PUT', pathOf(site, carriage), { ...sensors, by })) as Answer<SensorsAnswer>;
}

function pathOf(site: string, carriage: string): string {
  return `carriages/${encodeURIComponent(site)}/${encodeURIComponent(carriage)}/sensors`;
}
