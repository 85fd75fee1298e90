import { computed, signal } from '@preact/signals';
import type { ServiceFacts } from '../../shared/api-types/service.js';
import { fetchService } from './api.js';

/** What the service says of itself; null until it has. */
export const serviceFacts = signal<ServiceFacts | null>(null);

const browserZone = Intl.DateTimeFormat().resolvedOptions().timeZone;

/** IANA zone that all times are shown in: that of the plant, so that two offices read the same date. The browser's own until it is known. */
export const plantZone = computed(() => serviceFacts.value?.timeZone ?? browserZone);

/** Shifts of the plant in the order of the day; none until they are known, and where it has set none. */
export const plantShifts = computed(() => serviceFacts.value?.shifts ?? []);

/** Asks anew; what is known stays where there is no answer. */
export async function readServiceFacts(): Promise<void> {
  const answer = await fetchService();
  if (answer.ok) serviceFacts.value = answer.value;
}
