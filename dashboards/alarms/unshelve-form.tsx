import type { JSX } from 'preact';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { unshelveAlarm } from '../shared/api.js';
import { takeAlarm } from '../shared/live-feed.js';
import { wordsOf } from '../shared/words.js';
import { alarmsWords } from './alarms-words.js';
import { NameForm } from './name-form.js';

/** Brings a shelved alarm back before its time, with the name of who does so. */
export function UnshelveForm({ alarm, onDone, onCancel }: { readonly alarm: Alarm; readonly onDone: (said: string) => void; readonly onCancel: () => void }): JSX.Element {
  const say = wordsOf(alarmsWords);
  const send = async (by: string): Promise<string | null> => {
    const answer = await unshelveAlarm(alarm.id, by);
    if (!answer.ok) return answer.failure.reason;
    takeAlarm(answer.value);
    onDone(say.unshelvedNow);
    return null;
  };
  return <NameForm id={`unshelve-${alarm.id}`} label={say.unshelve} note={false} send={send} onCancel={onCancel} />;
}
