import type { JSX } from 'preact';
import { writeAddress } from '../shared/address.js';
import { goTo } from '../shared/current-address.js';
import { formatNumber } from '../shared/format.js';
import { serverNow } from '../shared/now.js';
import { periodSpan, shiftAt } from '../shared/plant-days.js';
import { SelectField } from '../shared/select-field.js';
import { plantShifts, plantZone } from '../shared/service-facts.js';
import { formatHour } from '../shared/times.js';
import { shown } from '../shared/units.js';
import { wordsOf } from '../shared/words.js';
import { shownSite, sites } from './floor-state.js';
import { floorWords } from './floor-words.js';
import { isKiosk } from './kiosk.js';
import { useRefusedCount } from './use-refused-count.js';
import { useCounts } from './use-counts.js';

/** What was welded in the current shift, or today if the plant has no shifts; what was refused, and which hall is shown. */
export function ShiftLine(): JSX.Element {
  const say = wordsOf(floorWords);
  const site = shownSite.value;
  const shifts = plantShifts.value;
  const shift = shiftAt(serverNow.value, plantZone.value, shifts);
  const [begins, ends] = periodSpan('shift', serverNow.value, plantZone.value, shifts);
  const counts = useCounts(site, begins);
  const period = shift === null ? 'today' : 'shift';
  const refused = useRefusedCount();
  const counted = (count: number): string => `${formatNumber(count, 0)}${counts?.partial === true ? '+' : ''}`;
  const link = (text: string, href: string): JSX.Element => (isKiosk.value ? <span>{text}</span> : <a href={href}>{text}</a>);
  return (
    <p class="floor-today">
      {counts !== null && (
        <span>
          {shift === null ? say.today : say.shift(shift.name, `${formatHour(begins)}–${formatHour(ends)}`)} {link(say.runsToday(counted(counts.runs)), writeAddress(['runs'], { period, site }))}
          {counts.withExcursions > 0 && <> · {link(say.excursionsToday(counted(counts.withExcursions)), writeAddress(['runs'], { period, site, excursions: 'true' }))}</>}
          {counts.runs > 0 && <> · {say.welded(`${shown('length', counts.length)}${counts.partial ? '+' : ''}`)}</>}
        </span>
      )}
      {refused > 0 && link(isKiosk.value ? say.refusedKiosk(formatNumber(refused, 0)) : say.refused(formatNumber(refused, 0)), '#/refused')}
      {!isKiosk.value && sites.value.length > 1 && (
        <SelectField
          label={`${say.hall} `}
          value={site}
          choices={[['', say.all], ...sites.value.map((hall) => [hall, hall] as const)]}
          onChoose={(hall) => { goTo(writeAddress([], { site: hall })); }}
        />
      )}
    </p>
  );
}
