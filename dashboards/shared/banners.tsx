import type { ComponentChildren, JSX } from 'preact';
import { actionOf } from './alarm-actions-words.js';
import { alarmSentence } from './alarm-sentence.js';
import { health } from './health.js';
import { feed } from './live-feed.js';
import { Mark } from './mark.js';
import { now } from './now.js';
import { serviceAlarms } from './service-alarms.js';
import { sharedWords } from './shared-words.js';
import { formatAge, formatClock } from './times.js';

/** A loss of the feed that is shorter than this is not worth telling anyone, ms. */
const shortLoss = 1_500;

/** What is wrong between this page and the carriages, and with the service itself, in words; empty if nothing is. */
export function Banners(): JSX.Element {
  return (
    <div class="banners" role="status">
      {connectionBanner()}
      {serviceAlarms.value.map((alarm) => (
        <Banner key={alarm.id} title={alarmSentence(alarm, null)}>{alarm.response} {actionOf(alarm)}</Banner>
      ))}
    </div>
  );
}

function connectionBanner(): JSX.Element | null {
  const say = sharedWords();
  const state = health.value;
  if (state.is === 'unreachable' && feed.value.is !== 'open') return <Banner title={say.unreachable(formatClock(state.since))}>{say.unreachableMore}</Banner>;
  if (state.is === 'failing') return <Banner title={say.failing}>{say.failingMore(state.reason, formatClock(state.since))}</Banner>;
  if (feed.value.is === 'lost' && now.value - feed.value.since > shortLoss) {
    return <Banner title={say.feedLost(formatClock(feed.value.since), formatAge(now.value - feed.value.since))}>{say.feedLostMore}</Banner>;
  }
  return null;
}

function Banner({ title, children }: { readonly title: string; readonly children: ComponentChildren }): JSX.Element {
  return <p class="banner"><Mark name="warning" /><span><strong>{title}</strong> {children}</span></p>;
}
