import type { JSX } from 'preact';
import type { Alarm } from '../../../shared/api-types/alarm.js';
import type { Run } from '../../../shared/api-types/run.js';
import { writeAddress } from '../../shared/address.js';
import { alarmSentence, isLasting, alarmStateWord, priorityWord, withdrawnText } from '../../shared/alarm-sentence.js';
import { fetchAlarms } from '../../shared/api.js';
import { TableHead } from '../../shared/list-parts.js';
import { onAlarm } from '../../shared/live-feed.js';
import { Mark } from '../../shared/mark.js';
import { formatClock } from '../../shared/times.js';
import { usePagedList, type PagedList } from '../../shared/use-paged-list.js';
import { acknowledgedText, stretchOfAlarm } from '../marks/alarm-marks.js';
import type { Stretch } from '../run-places.js';
import { alarmRowWords } from './alarm-row-words.js';

interface RunAlarmRowProps { readonly run: Run; readonly alarms: PagedList<Alarm>; readonly onShow: (stretch: Stretch) => void }

/** The alarms of a run, folded into a line that counts them so that the traces stay visible; a press shows one in the traces. */
export function RunAlarmRow({ run, alarms: { items, failure }, onShow }: RunAlarmRowProps): JSX.Element {
  const say = alarmRowWords();
  const told = items?.filter(({ withdrawn }) => withdrawn === null) ?? [];
  const active = told.filter(isLasting).length;
  const open = told.filter(({ acknowledgedAt }) => acknowledgedAt === null).length;
  return (
    <section class="run-alarms" aria-label={say.heading()}>
      {failure !== null && <p class="none">{say.failed(failure.reason)}</p>}
      {items === null && failure === null && <p class="none">{say.asking}</p>}
      {items?.length === 0 && <p class="none">{run.origin.kind === 'log' ? say.imported() : say.none()}</p>}
      {items !== null && items.length > 0 && (
        <details>
          <summary><Mark name={active > 0 ? 'warning' : 'empty'} /> {say.heading()}: {say.counted(told.length, active, open)}</summary>
          <div class="scroll" tabIndex={0} role="region" aria-label={say.heading()}>
            <table class="mark-table">
              <TableHead columns={[say.when, say.alarmLabel, say.priorityLabel, say.state, say.acknowledgedHead, '']} />
              <tbody>{items.map((alarm) => <AlarmEntry key={alarm.id} alarm={alarm} run={run} onShow={onShow} />)}</tbody>
            </table>
          </div>
          <p><a href={writeAddress(['alarms'], { site: run.site, carriage: run.carriage })}>{say.allOfCarriage(run.carriage)}</a></p>
        </details>
      )}
    </section>
  );
}

function AlarmEntry({ alarm, run, onShow }: Pick<RunAlarmRowProps, 'run' | 'onShow'> & { readonly alarm: Alarm }): JSX.Element {
  const say = alarmRowWords();
  const text = alarmSentence(alarm, null);
  const withdrawn = withdrawnText(alarm);
  return (
    <tr>
      <th scope="row">{formatClock(alarm.raisedAt)}</th>
      <td><Mark name={isLasting(alarm) ? 'warning' : 'empty'} /> {text}</td>
      <td>{priorityWord(alarm.priority)}</td>
      <td>{withdrawn === null ? alarmStateWord(alarm.state) : say.withdrawn(withdrawn)}</td>
      <td>{acknowledgedText(alarm)}</td>
      <td>
        <button type="button" class="small" aria-label={say.show(text)} onClick={() => { onShow(stretchOfAlarm(run, alarm)); }}>{say.zoomTo}</button>
      </td>
    </tr>
  );
}

/** More than any run has. */
const pageSize = 1000;

/** The alarms of a run, those raised last first. */
export function useRunAlarms(run: string): PagedList<Alarm> {
  return usePagedList(
    {
      ask: async (page, signal) => await fetchAlarms({ run, ...page }, signal),
      pageSize,
      hear: onAlarm,
      fits: (alarm) => alarm.run === run,
      order: (a, b) => (a.raisedAt < b.raisedAt ? 1 : a.raisedAt > b.raisedAt ? -1 : 0),
    },
    [run],
  );
}
