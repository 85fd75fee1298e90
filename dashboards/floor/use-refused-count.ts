import { fetchRefused } from '../shared/api.js';
import { serverNow } from '../shared/now.js';
import { useAnswer } from '../shared/use-answer.js';

const every = 15_000;
/** For how long refused messages still matter to somebody, ms; common practice, no source. */
const concernFor = 86_400_000;

/** How many messages were refused in the last 24 h. */
export function useRefusedCount(): number {
  const { value } = useAnswer(async (signal) => await fetchRefused({ since: new Date(serverNow.peek() - concernFor).toISOString(), limit: 1 }, signal), [], { every });
  return value?.total ?? 0;
}
