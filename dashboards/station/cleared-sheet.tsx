import type { JSX } from 'preact';
import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { alarmSentence, quantityWord } from '../shared/alarm-sentence.js';
import { fetchAlarms } from '../shared/api.js';
import { opened } from '../shared/live-feed.js';
import { serverNow } from '../shared/now.js';
import { runNumber } from '../shared/common-words.js';
import { arrivedAt, byArrival, isOfLimits, shelvedAlarms } from '../shared/standing-alarms.js';
import { formatHour, formatMoment } from '../shared/times.js';
import { useAnswer } from '../shared/use-answer.js';
import { Sheet } from './sheet.js';
import { stationWords } from './station-words.js';
import type { AlarmWrites } from './use-alarm-writes.js';

/** Cleared and shelved alarms: the cleared ones by run, each with seam, run and time. Nothing here tells anybody to set anything. */
export function ClearedSheet({ carriage, writes, note, close }: { readonly carriage: Carriage; readonly writes: AlarmWrites; readonly note: (alarm: Alarm) => void; readonly close: () => void }): JSX.Element {
  const say = stationWords();
  const cleared = useCleared(carriage);
  const runs = [...new Set(cleared.map((own) => own.run ?? ''))].sort((a, b) => Number(b === carriage.run) - Number(a === carriage.run));
  const groups = runs.map((run) => [run, cleared.filter((own) => (own.run ?? '') === run)] as const);
  return (
    <Sheet title={say.alarms} close={close} focus={carriage.carriage}>
      {shelvedAlarms(carriage).alarms.map((own) => (
        <div key={own.id} class="cleared-run cleared-head">
          <p>{say.shelvedOne(quantityWord(own.quantity), formatHour(own.shelvedUntil))}</p>
          <button type="button" class="push" onClick={() => { void writes.unshelve(own); }}>{say.unshelve}</button>
        </div>
      ))}
      {cleared.length === 0 && <p>{say.nothingCleared}</p>}
      {groups.map(([run, alarms]) => (
        <ClearedRun key={run} run={run === '' ? null : run} alarms={alarms} own={run !== '' && run === carriage.run} writes={writes} note={note} />
      ))}
    </Sheet>
  );
}

function ClearedRun({ run, alarms, own, writes, note }: { readonly run: string | null; readonly alarms: readonly Alarm[]; readonly own: boolean; readonly writes: AlarmWrites; readonly note: (alarm: Alarm) => void }): JSX.Element {
  const say = stationWords();
  const [first] = alarms;
  const name = first?.seam == null ? say.unassignedRun : first.runNumber === null ? first.seam : `${first.seam} · ${runNumber(first.runNumber)}`;
  return (
    <section class="cleared-run" aria-label={name}>
      <div class="cleared-head">
        <h3>{name} <span class="sheet-aside">{own ? say.thisRun() : say.earlierRun()}</span></h3>
        <button type="button" class="push" onClick={() => { void writes.acknowledgeTogether(run === null ? { ids: alarms.map(({ id }) => id) } : { run, cleared: true }); }}>
          {say.acknowledgeAll(alarms.length)}
        </button>
      </div>
      <ul class="cleared-list">
        {alarms.map((alarm) => (
          <li key={alarm.id}>
            <p>{formatMoment(arrivedAt(alarm), serverNow.value)} · {alarmSentence(alarm, null)}</p>
            {hasStretch(alarm) && <p class="sheet-aside">{say.markStretch(alarm.seam ?? '')}</p>}
            <button type="button" class="push" onClick={() => { note(alarm); }}>{say.acknowledgeWithNote}</button>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Whether the alarm leaves a stretch on a seam that can be marked for a later look. */
function hasStretch(alarm: Alarm): boolean {
  return alarm.seam !== null && alarm.seamPosition !== null && (isOfLimits(alarm) || alarm.quantity === 'overlap' || alarm.quantity === 'travelStopped');
}

/** As many as anybody looks through at a carriage; the alarms page has the rest. */
const limit = 200;

/** Cleared, unacknowledged alarms of a carriage, the newest first: those that came with it, and the others once they have been read. They are read again when their number changes. */
function useCleared({ site, carriage, alarms, alarmCounts }: Carriage): readonly Alarm[] {
  const { value } = useAnswer(async (signal) => await fetchAlarms({ site, carriage, state: 'returned', limit }, signal), [site, carriage], { by: [opened.value, alarmCounts.cleared] });
  const here = alarms.filter(({ state }) => state === 'returned');
  const gone = new Set(alarms.filter(({ state }) => state !== 'returned').map(({ id }) => id));
  return [...here, ...(value?.items ?? []).filter((own) => !gone.has(own.id) && !here.some(({ id }) => id === own.id))].sort(byArrival);
}
