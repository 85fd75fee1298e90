import type { JSX } from 'preact';
import { writeAddress } from '../shared/address.js';
import { unitSystem } from '../shared/choices.js';
import { goTo } from '../shared/current-address.js';
import { formatNumber } from '../shared/format.js';
import { serverNow } from '../shared/now.js';
import { formatDate } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { shownSite, sites } from './floor-state.js';
import { floorWords } from './floor-words.js';
import { isKiosk } from './kiosk.js';
import { useRefusedCount } from './use-refused-count.js';
import { useToday } from './use-today.js';

/** What was welded today, what was refused, and which hall is shown. */
export function TodayLine(): JSX.Element {
  const say = wordsOf(floorWords);
  const site = shownSite.value;
  const today = useToday(site);
  const refused = useRefusedCount();
  const us = unitSystem.value === 'us';
  const counted = (count: number): string => `${formatNumber(count, 0)}${today?.partial === true ? '+' : ''}`;
  const from = formatDate(serverNow.value);
  const link = (text: string, href: string): JSX.Element => (isKiosk.value ? <span>{text}</span> : <a href={href}>{text}</a>);
  return (
    <p class="floor-today">
      {today !== null && (
        <span>
          {say.today} {link(say.runsToday(counted(today.runs), us), writeAddress(['runs'], { from, site }))}
          {today.withExcursions > 0 && <> · {link(say.excursionsToday(counted(today.withExcursions)), writeAddress(['runs'], { from, site, excursions: 'true' }))}</>}
        </span>
      )}
      {refused > 0 && link(isKiosk.value ? say.refusedKiosk(formatNumber(refused, 0)) : say.refused(formatNumber(refused, 0)), '#/refused')}
      {!isKiosk.value && sites.value.length > 1 && (
        <label>
          {say.hall}{' '}
          <select value={site} onChange={(event) => { goTo(writeAddress([], { site: event.currentTarget.value })); }}>
            <option value="">{say.allHalls}</option>
            {sites.value.map((own) => (
              <option key={own} value={own}>{own}</option>
            ))}
          </select>
        </label>
      )}
    </p>
  );
}
