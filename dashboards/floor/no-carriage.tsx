import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { serviceFacts } from '../shared/service-facts.js';
import { floorWords } from './floor-words.js';

/** How to connect a carriage; shown while there is none. */
export function NoCarriage(): JSX.Element | null {
  const say = floorWords();
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
      <h2 id="connect">{say.connect}</h2>
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

/** Six seconds of welding, enough for a first run; the README shows the same block. */
const block = '{"interval": 1000, "current": [612, 609, 611, 613, 610, 612], "voltage": 31.2, "travelSpeed": 520}';

/** A line for a terminal that sends a first reading to that broker. */
function firstLine(host: string, port: number): string {
  return `mosquitto_pub -h ${host} -p ${port} -q 1 -t weld/hall-a/c1/readings -m '${block}'`;
}

/** The host of the broker as others reach it; a broker that listens on every address is reached by the name in this page's address. */
function reachableHost(host: string, pageHost: string): string {
  return host === '0.0.0.0' || host === '::' || host === '' ? pageHost : host;
}
