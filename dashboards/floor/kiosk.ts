import { computed } from '@preact/signals';
import { address } from '../shared/current-address.js';

/** A screen that nobody touches: `#/?kiosk=1` leaves out everything that could be pressed. */
export const isKiosk = computed(() => address.value.query.get('kiosk') === '1');
