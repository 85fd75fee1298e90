import { headOfValue } from './printable.js';

/** The kinds of message that carriages send. */
export type TopicKind = 'readings' | 'senml' | 'assignment' | 'status';

export interface ParsedTopic {
  readonly site: string;
  readonly carriage: string;
  readonly kind: TopicKind;
}

export const topicKinds: readonly TopicKind[] = ['readings', 'senml', 'assignment', 'status'];
const levelName = /^[A-Za-z0-9_-]{1,64}$/;

/** Reads `weld/{site}/{carriage}/{kind}`, or gives the reason why a topic does not have this form. */
export function parseTopic(topic: string): ParsedTopic | { readonly reason: string } {
  const levels = topic.split('/', 6);
  const [root, site = '', carriage = '', kind = ''] = levels;
  if (root !== 'weld' || levels.length !== 4) {
    return { reason: `topic: got ${headOfValue(topic, 128)}; expected: weld/{site}/{carriage}/{kind}` };
  }
  if (!levelName.test(site)) return { reason: levelProblem('site', site) };
  if (!levelName.test(carriage)) return { reason: levelProblem('carriage', carriage) };
  const known = topicKinds[(topicKinds as readonly string[]).indexOf(kind)];
  return known === undefined ? { reason: `kind: got ${headOfValue(kind, 64)}; expected: ${topicKinds.join(', ')}` } : { site, carriage, kind: known };
}

function levelProblem(level: string, got: string): string {
  return `${level}: got ${headOfValue(got, 64)}; expected: 1 to 64 of the characters A-Z, a-z, 0-9, _ and -`;
}
