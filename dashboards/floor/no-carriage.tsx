import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { serviceFacts } from '../shared/service-facts.js';
import { wordsOf } from '../shared/words.js';
import { firstLine, reachableHost } from './first-line.js';
import { noCarriageWords } from './no-carriage-words.js';

/** How to connect a carriage; shown while there is none. */
export function NoCarriage(): JSX.Element | null {
  const say = wordsOf(noCarriageWords);
  const tried = useSignal<'copied' | 'notAllowed' | null>(null);
  const facts = serviceFacts.value;
  if (facts === null) return null;
  const host = reachableHost(facts.mqtt.host, window.location.hostname);
  const address = `mqtt://${host.includes(':') ? `[${host}]` : host}:${facts.mqtt.port}`;
  const line = firstLine(host, facts.mqtt.port);
  const copy = (): void => {
    navigator.clipboard.writeText(line).then(
      () => (tried.value = 'copied'),
      () => (tried.value = 'notAllowed'),
    );
  };
  return (
    <section class="empty" aria-labelledby="connect">
      <h2 id="connect">{say.title}</h2>
      <p>{say.intro}</p>
      <ol>
        <li>
          {say.pointBefore}
          <code>{address}</code>
          {say.stop}
        </li>
        <li>
          {say.publishBefore}
          <code>weld/&#123;site&#125;/&#123;carriage&#125;/readings</code>
          {say.publishAfter}
          <pre tabIndex={0} aria-label={say.line}><code>{line}</code></pre>
          <button type="button" onClick={copy}>{say.copy}</button>{' '}
          <span role="status">{tried.value === null ? '' : say[tried.value]}</span>
        </li>
        <li>
          {say.unitsBefore}
          <code>boot</code>, <code>seq</code>, <code>time</code>
          {say.unitsAfter}
        </li>
      </ol>
      <p>
        {say.simulateBefore}
        <code>npx seamwarden simulate --broker {address}</code>
        {say.simulateAfter}
      </p>
    </section>
  );
}
