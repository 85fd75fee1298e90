import { connect as connectTcp, type Socket } from 'node:net';
import { connect as connectTls } from 'node:tls';

export interface BrokerTarget {
  /** The URL without user name and password, for logs and answers. */
  readonly url: string;
  readonly username: string | undefined;
  readonly password: string | undefined;
  /** Opens a new connection. `ca` is a PEM certificate that is trusted instead of the usual ones. */
  connect(ca: string | undefined): Socket;
}

/**
 * Reads `mqtt://[USER:PASSWORD@]HOST[:PORT]` (port 1883) or `mqtts://…` (8883, the ports registered for MQTT). Throws a sentence that says what was
 * wrong and what is accepted.
 */
export function brokerTarget(text: string): BrokerTarget {
  const accepted = 'mqtt://HOST:PORT or mqtts://HOST:PORT';
  if (!URL.canParse(text)) throw new Error(`"${text}" is no address of an MQTT broker: expected ${accepted}`);
  const url = new URL(text);
  const secure = url.protocol === 'mqtts:';
  const shown = `${url.protocol}//${url.host}`;
  if (!secure && url.protocol !== 'mqtt:') throw new Error(`"${shown}" is no address of an MQTT broker: expected ${accepted}`);
  if (url.hostname === '' || (url.pathname !== '' && url.pathname !== '/')) {
    throw new Error(`"${shown}${url.pathname}" is no address of an MQTT broker: expected ${accepted}`);
  }
  // Square brackets belong to the URL, not to the IPv6 address.
  const host = url.hostname.replace(/^\[(.*)\]$/, '$1');
  const port = url.port === '' ? (secure ? 8883 : 1883) : Number(url.port);
  return {
    url: `${url.protocol}//${url.hostname}:${port}`,
    username: url.username === '' ? undefined : decodeURIComponent(url.username),
    password: url.password === '' ? undefined : decodeURIComponent(url.password),
    connect(ca) {
      if (!secure) return connectTcp({ host, port });
      return connectTls({ host, port, servername: /^[\d.]+$|:/.test(host) ? '' : host, ...(ca === undefined ? {} : { ca }) });
    },
  };
}
