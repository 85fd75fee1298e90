import type { TemperatureMeasurement } from '../../shared/api-types/temperature.js';
import { get, send, type Answer, type Page } from './api.js';

export interface TemperatureEntry {
  readonly kind: TemperatureMeasurement['kind'];
  /** °C. */
  readonly value: number;
  readonly place: TemperatureMeasurement['place'];
  readonly by: string;
}

/** Enters a temperature at a carriage, for the run to come; measured now. */
export async function postTemperature(site: string, carriage: string, entry: TemperatureEntry): Promise<Answer<TemperatureMeasurement>> {
  return (await send('POST', pathOf(site, carriage), { ...entry })) as Answer<TemperatureMeasurement>;
}

/** The temperatures entered last at a carriage, the last one first. */
export async function fetchTemperatures(site: string, carriage: string, limit: number, signal: AbortSignal): Promise<Answer<Page<TemperatureMeasurement>>> {
  return (await get(pathOf(site, carriage), { limit }, signal)) as Answer<Page<TemperatureMeasurement>>;
}

/** Withdraws a wrong one, which stays in the record as withdrawn. */
export async function withdrawTemperature(site: string, carriage: string, id: string, by: string): Promise<Answer<unknown>> {
  return await send('DELETE', `${pathOf(site, carriage)}/${encodeURIComponent(id)}?by=${encodeURIComponent(by)}`, null);
}

function pathOf(site: string, carriage: string): string {
  return `carriages/${encodeURIComponent(site)}/${encodeURIComponent(carriage)}/temperatures`;
}
