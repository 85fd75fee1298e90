import type { JSX } from 'preact';
import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { arrivedAt } from '../shared/alarm-record.js';
import { alarmSentence, quantityWord } from '../shared/alarm-sentence.js';
import { serverNow } from '../shared/now.js';
import { runNumber } from '../shared/run-word.js';
import { isOfLimits, shelvedAlarms } from '../shared/standing-alarms.js';
import { formatHour, formatMoment } from '../shared/times.js';
import { wordsOf } from '../shared/words.js';
import { Sheet } from './sheet.js';
import { stationWords } from './station-words.js';
import type { AlarmWrites } from './use-alarm-writes.js';
import { useCleared } from './use-cleared.js';

/** Cleared and shelved alarms: the cleared ones by run, each with seam, run and time. Nothing here tells anybody to set anything. */
export function ClearedSheet({ carriage, writes, note, close }: { readonly carriage: Carriage; readonly writes: AlarmWrites; readonly note: (alarm: Alarm) => void; readonly close: () => void }): JSX.Element {
  const say = wordsOf(stationWords);
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
  const say = wordsOf(stationWords);
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
