import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';

const line = `mosquitto_pub -h HOST -p PORT -q 1 -t weld/hall-a/c1/readings -m '{"arc":1,"current":612.4,"voltage":31.2,"travelSpeed":520}'`;

/** How to connect a carriage, for as long as there is none. */
export function NoCarriage(): JSX.Element {
  const copied = useSignal('');
  const copy = (): void => {
    navigator.clipboard.writeText(line).then(
      () => (copied.value = 'Copied.'),
      () => (copied.value = 'The browser did not allow it; mark the line and copy it yourself.'),
    );
  };
  return (
    <section class="empty" aria-labelledby="connect">
      <h2 id="connect">No carriage has sent anything yet</h2>
      <p>A carriage appears here with its first message. To connect one:</p>
      <ol>
        <li>
          Point it at the broker: the address that the service printed when it started, behind <code>mqtt=mqtt://</code>, as <code>HOST:PORT</code>.
        </li>
        <li>
          Let it publish to <code>weld/&#123;site&#125;/&#123;carriage&#125;/readings</code> with QoS 1. To try it from a terminal, put the printed address for <code>HOST</code> and{' '}
          <code>PORT</code> and paste this line (letters, digits, _ and - are taken for site and carriage, 64 at most):
          <pre tabIndex={0} aria-label="A line to paste">
            <code>{line}</code>
          </pre>
          <button type="button" onClick={copy}>
            Copy the line
          </button>{' '}
          <span role="status">{copied.value}</span>
        </li>
        <li>
          Current is in A, voltage in V, travel speed in mm/min. A real carriage also sends <code>boot</code>, <code>seq</code> and <code>time</code>, so that nothing is lost or counted
          twice.
        </li>
      </ol>
      <p>
        Without a carriage at hand, <code>npx seamwarden simulate --broker mqtt://HOST:PORT</code> plays some; everything that they send is marked as simulated.
      </p>
    </section>
  );
}
