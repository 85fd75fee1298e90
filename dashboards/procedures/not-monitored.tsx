import type { JSX } from 'preact';
import { monitoringOf, type WindowName } from './field-specs.js';
import type { AlarmedName } from '../../shared/weld/quantities.js';
import { formWords } from './form-words.js';

/** Says of a quantity that its limits are not watched while welding, and what they are used for instead. */
export function NotMonitored({ name }: { readonly name: WindowName | AlarmedName }): JSX.Element | null {
  const monitoring = monitoringOf(name);
  return monitoring === 'along' ? null : <span class="not-monitored">{formWords()[monitoring]()}</span>;
}
