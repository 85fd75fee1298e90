import type { ComponentChildren, JSX } from 'preact';
import { health } from './health.js';
import { feed } from './live-feed.js';
import { Mark } from './mark.js';
import { now } from './now.js';
import { formatAge, formatClock } from './times.js';

/** A feed that comes back within this time was no loss that anyone needs to read of, ms. */
const shortLoss = 1_500;

/** What is wrong between this page and the carriages, in words; nothing where nothing is. */
export function Banners(): JSX.Element {
  return (
    <div class="banners" role="status">
      {bannerText()}
    </div>
  );
}

function bannerText(): JSX.Element | null {
  const state = health.value;
  if (state.is === 'unreachable') {
    return (
      <Banner title={`The service does not answer since ${formatClock(state.since)}.`}>
        What this page shows is from then. It asks again every 5 s and goes on by itself; if it stays so, see whether the service is running and the network reaches it.
      </Banner>
    );
  }
  if (state.is === 'failing') {
    return (
      <Banner title="The service reports a fault.">
        {state.reason} Since {formatClock(state.since)}.
      </Banner>
    );
  }
  if (feed.value.is === 'lost' && now.value - feed.value.since > shortLoss) {
    return (
      <Banner title={`No live values since ${formatClock(feed.value.since)} (${formatAge(now.value - feed.value.since)}).`}>
        The service answers, but its live feed does not. This page connects again by itself.
      </Banner>
    );
  }
  return null;
}

function Banner({ title, children }: { readonly title: string; readonly children: ComponentChildren }): JSX.Element {
  return (
    <p class="banner">
      <Mark name="warning" />
      <span>
        <strong>{title}</strong> {children}
      </span>
    </p>
  );
}
