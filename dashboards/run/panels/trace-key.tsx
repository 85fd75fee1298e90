import type { JSX } from 'preact';
import { panelWords } from './panel-words.js';
import './trace-key.css';

interface TraceKeyProps {
  readonly limits: boolean;
  readonly judged: boolean;
  readonly severalArcs: boolean;
  readonly compared: boolean;
}

/** What bands, hatches, blocks and ticks mean. */
export function TraceKey({ limits, judged, severalArcs, compared }: TraceKeyProps): JSX.Element {
  const say = panelWords();
  const entries: readonly (readonly [string, string])[] = [
    ...(limits ? [['band', say.keyBand] as const] : []),
    ...(judged ? [['judged', say.keyJudged] as const, ['raw', say.keyRaw] as const] : []),
    ['shading', say.keyShading],
    ...(compared ? [['other', say.keyOther()] as const] : []),
    ['weld', limits ? say.keyWeld : say.keyWeldOnly],
    ['excluded', say.keyExcluded],
    ...(severalArcs && limits ? [['unpassed', say.keyUnpassed] as const] : []),
    ['excursion', severalArcs ? say.keyExcursionArcs : say.keyExcursion],
    ['gap', say.keyGap],
    ['restart', say.keyRestart],
    ['alarm', say.keyAlarm],
  ];
  return (
    <dl class="trace-key" aria-label={say.legend}>
      {entries.map(([name, text]) => <div key={name}><dt class={`key key-${name}`} aria-hidden="true" /><dd>{text}</dd></div>)}
    </dl>
  );
}
