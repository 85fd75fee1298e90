import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { wordsOf } from '../shared/words.js';
import { noCarriageWords } from './no-carriage-words.js';

const line = `mosquitto_pub -h HOST -p PORT -q 1 -t weld/hall-a/c1/readings -m '{"arc":1,"current":612.4,"voltage":31.2,"travelSpeed":520}'`;

/** How to connect a carriage, for as long as there is none. */
export function NoCarriage(): JSX.Element {
  const say = wordsOf(noCarriageWords);
  const tried = useSignal<'copied' | 'notAllowed' | null>(null);
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
          <code>mqtt=mqtt://</code>
          {say.pointBetween}
          <code>HOST:PORT</code>
          {say.stop}
        </li>
        <li>
          {say.publishBefore}
          <code>weld/&#123;site&#125;/&#123;carriage&#125;/readings</code>
          {say.publishBetween}
          <code>HOST</code>
          {say.and}
          <code>PORT</code>
          {say.publishAfter}
          <pre tabIndex={0} aria-label={say.line}>
            <code>{line}</code>
          </pre>
          <button type="button" onClick={copy}>
            {say.copy}
          </button>{' '}
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
        <code>npx seamwarden simulate --broker mqtt://HOST:PORT</code>
        {say.simulateAfter}
      </p>
    </section>
  );
}
