import { computed, signal } from '@preact/signals';
import type { ServiceFacts } from '../../shared/api-types/service.js';
import { fetchService } from './api.js';

/** What the service says about itself; null until it has answered. */
export const serviceFacts = signal<ServiceFacts | null>(null);

const browserZone = Intl.DateTimeFormat().resolvedOptions().timeZone;

/** The IANA zone in which all times are shown: that of the plant, so that two offices read the same date; the browser's own until that is known. */
export const plantZone = computed(() => serviceFacts.value?.timeZone ?? browserZone);

/** Shifts of the plant in the order of the day; empty until they are known, or if the plant has none. */
export const plantShifts = computed(() => serviceFacts.value?.shifts ?? []);

/** Reads the facts anew; if there is no answer, the known ones stay. */
export async function readServiceFacts(): Promise<void> {
  const answer = await fetchService();
  if (answer.ok) serviceFacts.value = answer.value;
}
