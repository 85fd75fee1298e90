import { computed, effect } from '@preact/signals';
import { carriageAt, carriageKeys } from './carriages-now.js';
import { countedTitle } from './use-page-title.js';
import markAlarm from './mark-alarm.svg';
import { serviceAlarms } from './service-alarms.js';
import { activeCount } from './standing-alarms.js';

/** How many alarms are active, on all carriages and of the service itself. */
export const activeAlarmCount = computed(() => {
  let count = serviceAlarms.value.length;
  for (const key of carriageKeys.value) {
    const carriage = carriageAt(key)?.value;
    if (carriage !== undefined) count += activeCount(carriage);
  }
  return count;
});

/** Keeps the count in the title, whatever page sets it, and shows another icon, so that a tab in the background shows alarms. */
export function startAlarmBadge(): void {
  const icon = document.querySelector<HTMLLinkElement>('link[rel=icon]');
  const quietIcon = icon?.href ?? '';
  const show = (count: number): void => {
    const title = countedTitle(document.title, count);
    // Setting it to the same would call the observer for ever.
    if (title !== document.title) document.title = title;
    const href = count > 0 ? markAlarm : quietIcon;
    if (icon !== null && icon.getAttribute('href') !== href) icon.setAttribute('href', href);
  };
  new MutationObserver(() => { show(activeAlarmCount.peek()); }).observe(document.head, { subtree: true, childList: true, characterData: true });
  effect(() => { show(activeAlarmCount.value); });
}
