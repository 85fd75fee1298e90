import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { acknowledgeAlarms } from '../shared/api.js';
import { formatZone } from '../shared/times.js';
import { AcknowledgeForm } from './acknowledge-form.js';
import { AlarmItem, isSelectable } from './alarm-item.js';
import { alarmsWords } from './alarms-words.js';

/** The most alarms that the service accepts in one step. */
const atMost = 500;

/** The rows, and the actions for many of them at once. */
export function AlarmList({ alarms }: { readonly alarms: readonly Alarm[] }): JSX.Element {
  const say = alarmsWords();
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  const [isAsking, setAsking] = useState(false);
  const [said, setSaid] = useState('');
  const free = alarms.filter(isSelectable);
  // Alarms that somebody else has acknowledged meanwhile are no longer selected.
  const selected = free.filter(({ id }) => chosen.has(id)).slice(0, atMost);
  const choose = (some: readonly Alarm[]): void => {
    setSaid('');
    setChosen(new Set(some.map(({ id }) => id)));
  };
  const send = async (signed: { readonly by: string; readonly note?: string }): Promise<string | null> => {
    const answer = await acknowledgeAlarms({ ids: selected.map(({ id }) => id), ...signed });
    if (!answer.ok) return answer.failure.reason;
    setAsking(false);
    choose([]);
    setSaid(say.acknowledgedMany(answer.value.acknowledged));
    return null;
  };
  const cleared = free.filter(({ state }) => state === 'returned');
  return (
    <section class="alarm-section">
      <h2 class="unseen">{say.alarms}</h2>
      <div class="alarm-bulk">
        <button type="button" disabled={free.length === 0} onClick={() => { choose(free); }}>{say.selectAll}</button>
        <button type="button" disabled={cleared.length === 0} onClick={() => { choose(cleared); }}>{say.selectCleared}</button>
        {selected.length > 0 && <button type="button" onClick={() => { choose([]); }}>{say.selectNone}</button>}
        {selected.length > 0 && (
          <button type="button" class="alarm-bulk-do" aria-expanded={isAsking} onClick={() => { setAsking(!isAsking); }}>
            {say.acknowledgeSelected(selected.length)}
          </button>
        )}
        <span role="status">{said}</span>
        {isAsking && selected.length > 0 && <AcknowledgeForm id="acknowledge-many" label={say.acknowledgeSelected(selected.length)} needsNote={false} send={send} onCancel={() => { setAsking(false); }} />}
      </div>
      <div class="alarm-columns" aria-hidden="true">
        <span />
        <span>{say.priorityLabel}</span>
        <span>{say.state}</span>
        <span>{say.raised}<br /><span class="unit">{formatZone(alarms[0]?.raisedAt ?? 0)}</span></span>
        <span>{say.carriageLabel}</span>
        <span>{say.seam}</span>
        <span>{say.alarmLabel}</span>
        <span />
      </div>
      <ul class="alarm-log">
        {alarms.map((alarm) => (
          <AlarmItem
            key={alarm.id}
            alarm={alarm}
            selected={chosen.has(alarm.id)}
            onSelect={(isSelected) => {
              const next = new Set(chosen);
              if (isSelected) next.add(alarm.id);
              else next.delete(alarm.id);
              setSaid('');
              setChosen(next);
            }}
          />
        ))}
      </ul>
    </section>
  );
}
