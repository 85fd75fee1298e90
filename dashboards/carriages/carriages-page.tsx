import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import { carriageState } from '../shared/carriage-state.js';
import { carriageAt, carriageKeys } from '../shared/carriages-now.js';
import { counted } from '../shared/format.js';
import { health } from '../shared/health.js';
import { carriagesKnown } from '../shared/live-feed.js';
import { serverNow } from '../shared/now.js';
import { formatAge } from '../shared/times.js';
import { CarriageCard } from './carriage-card.js';
import './carriages.css';
import { NoCarriage } from './no-carriage.js';

/** What each carriage does now. */
export function CarriagesPage(): JSX.Element {
  useEffect(() => {
    document.title = 'Carriages · Seamwarden';
  }, []);
  const keys = carriageKeys.value;
  return (
    <>
      <div class="heading">
        <h1 tabIndex={-1}>Carriages</h1>
        {keys.length > 0 && <p class="aside">{summary(keys)}</p>}
      </div>
      {keys.length > 0 ? (
        <ul class="cards">
          {keys.map((key) => (
            <li key={key}>
              <CarriageCard id={key} />
            </li>
          ))}
        </ul>
      ) : (
        <Nothing />
      )}
    </>
  );
}

function Nothing(): JSX.Element {
  if (carriagesKnown.value) return <NoCarriage />;
  if (health.value.is === 'unreachable') return <p class="empty">Nothing can be shown before the service answers.</p>;
  return <p class="empty">Asking the service which carriages there are …</p>;
}

function summary(keys: readonly string[]): string {
  let welding = 0;
  let silent = 0;
  let newest = '';
  for (const key of keys) {
    const carriage = carriageAt(key)?.value;
    if (carriage === undefined) continue;
    if (carriageState(carriage, serverNow.value).stale) silent += 1;
    else if (carriage.welding) welding += 1;
    if (carriage.lastSeen !== null && carriage.lastSeen > newest) newest = carriage.lastSeen;
  }
  const age = newest === '' ? '' : ` Newest data ${formatAge(serverNow.value - Date.parse(newest))} old.`;
  const silence = silent === 0 ? '' : `, ${silent} fallen silent while welding`;
  return `${counted(keys.length, 'carriage')}, ${welding} welding${silence}.${age}`;
}
