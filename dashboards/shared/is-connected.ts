import { computed } from '@preact/signals';
import { health } from './health.js';
import { feed } from './live-feed.js';
import { now } from './now.js';

/** A feed that comes back within this time has missed nothing that matters, ms. */
const shortLoss = 2_000;

/** Whether this page would hear of a carriage that sends. */
export const isConnected = computed(() => {
  const state = feed.value;
  if (health.value.is === 'unreachable' && state.is !== 'open') return false;
  return state.is === 'open' || (state.is === 'lost' && now.value - state.since < shortLoss);
});
