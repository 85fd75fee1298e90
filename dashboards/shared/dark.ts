import { computed, signal } from '@preact/signals';
import { appearance } from './choices.js';

const query = window.matchMedia('(prefers-color-scheme: dark)');
const systemIsDark = signal(query.matches);

query.addEventListener('change', () => { systemIsDark.value = query.matches; });

/** Whether surfaces are dark, by choice or by the system; drawings on a canvas are redrawn when that changes. */
export const dark = computed(() => (appearance.value === 'system' ? systemIsDark.value : appearance.value === 'dark'));
