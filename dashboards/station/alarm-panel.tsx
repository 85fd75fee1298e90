import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { attentionAlarms } from '../shared/standing-alarms.js';
import { wordsOf } from '../shared/words.js';
import { AlarmActions } from './alarm-actions.js';
import { AlarmText } from './alarm-text.js';
import { NoteChoice } from './note-choice.js';
import { ShelveChoice } from './shelve-choice.js';
import { stationWords } from './station-words.js';
import { useAlarmWrites } from './use-alarm-writes.js';

type Step = { readonly is: 'look' } | { readonly is: 'shelve'; readonly alarm: Alarm } | { readonly is: 'note'; readonly alarm: Alarm };

/** The standing alarms, one at a time, the most urgent first, and what can be done about it by press. */
export function AlarmPanel({ carriage }: { readonly carriage: Carriage }): JSX.Element {
  const say = wordsOf(stationWords);
  const alarms = attentionAlarms(carriage.alarms);
  const looked = useSignal<string | null>(null);
  const step = useSignal<Step>({ is: 'look' });
  const writes = useAlarmWrites(carriage.assignment?.operator ?? 'station');
  const at = Math.max(0, alarms.findIndex(({ id }) => id === looked.value));
  const alarm = alarms[at];
  const done = (): void => {
    step.value = { is: 'look' };
  };
  const acknowledge = async (own: Alarm): Promise<void> => {
    const taken = await writes.acknowledge(own);
    if (taken !== null) step.value = { is: 'note', alarm: taken };
  };
  const shelved = carriage.alarms.filter(({ state }) => state === 'shelved').length;
  return (
    <section class={alarm === undefined ? 'alarm-panel' : `alarm-panel alarm-stands alarm-${alarm.state}`} aria-label={say.alarmPanel}>
      {step.value.is === 'look' && alarm === undefined && <p class="alarm-none">{say.noAlarm}</p>}
      {step.value.is === 'look' && alarm !== undefined && (
        <div class="alarm-row">
          <AlarmText alarm={alarm} />
          <AlarmActions
            alarm={alarm}
            at={at}
            count={alarms.length}
            acknowledge={() => { void acknowledge(alarm); }}
            shelve={() => { step.value = { is: 'shelve', alarm }; }}
            note={() => { step.value = { is: 'note', alarm }; }}
            next={() => { looked.value = alarms[(at + 1) % alarms.length]?.id ?? null; }}
          />
        </div>
      )}
      {step.value.is === 'note' && <NoteChoice alarm={step.value.alarm} write={writes.note} done={done} />}
      {step.value.is === 'shelve' && <ShelveChoice alarm={step.value.alarm} write={writes.shelve} done={done} />}
      {shelved > 0 && <p class="alarm-aside">{say.shelvedCount(shelved)}</p>}
      <p class="alarm-failed" role="alert">
        {writes.failure !== null && say.failed(writes.failure)}
      </p>
    </section>
  );
}
