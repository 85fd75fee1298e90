/** Wire feed speed over time: s, m/min·s, (m/min)²·s, least and greatest. */
export interface FeedSum {
  time: number;
  sum: number;
  squared: number;
  min: number;
  max: number;
}

export function noFeed(): FeedSum {
  return { time: 0, sum: 0, squared: 0, min: Infinity, max: -Infinity };
}

export function addFeed(feed: FeedSum, value: number, dt: number): void {
  feed.time += dt;
  feed.sum += value * dt;
  feed.squared += value * value * dt;
  if (value < feed.min) feed.min = value;
  if (value > feed.max) feed.max = value;
}

export function joinFeed(feed: FeedSum, more: Readonly<FeedSum>): void {
  feed.time += more.time;
  feed.sum += more.sum;
  feed.squared += more.squared;
  if (more.min < feed.min) feed.min = more.min;
  if (more.max > feed.max) feed.max = more.max;
}
