import { computed } from '@preact/signals';
import { health } from './health.js';
import { feed } from './live-feed.js';

/** Whether this page would hear of a carriage that sends. */
export const isConnected = computed(() => feed.value.is === 'open' && health.value.is !== 'unreachable');
