import { connect } from 'node:net';
import type { Settings } from '../settings.js';
import { note, ok, wrong, type Finding } from './broker-check/finding.js';

const answerWithinMs = 5_000;

type PortState = 'free' | 'in use' | 'silent';

/** The ports of the service: free, in use by the service itself, or by something else. */
export async function checkPorts(settings: Settings): Promise<Finding[]> {
  const { mqttUrl, mqttHost, mqttPort, httpHost, httpPort } = settings;
  const runs = httpPort !== 0 && (await answersHealth(httpHost, httpPort));
  return [
    ...(mqttUrl === null ? [await told('SEAMWARDEN_MQTT_PORT', mqttHost, mqttPort, 'the embedded broker', runs)] : []),
    await told('SEAMWARDEN_HTTP_PORT', httpHost, httpPort, 'pages and API', runs),
  ];
}

async function told(name: string, host: string, port: number, use: string, runs: boolean): Promise<Finding> {
  if (port === 0) return ok(`${name}: ${use} take any free port`);
  const place = `${name}: ${host}:${port}`;
  const state = await stateOf(host, port);
  if (state === 'free') return runs ? note(`${place} is free, though a service answers on the HTTP port: it was started with another one`) : ok(`${place} is free for ${use}`);
  if (state === 'silent') return note(`${place} does not answer`);
  return runs ? ok(`${place} is in use by the service, which runs`) : wrong(`${place} is in use by another program, so that the service can not start`);
}

/** Whether a service like this one answers there: one that cannot store at present answers 503 with a problem. */
async function answersHealth(host: string, port: number): Promise<boolean> {
  const name = host === '0.0.0.0' ? '127.0.0.1' : host === '::' ? '[::1]' : host.includes(':') ? `[${host}]` : host;
  try {
    const answer = await fetch(`http://${name}:${port}/api/health`, { signal: AbortSignal.timeout(answerWithinMs) });
    const body: unknown = await answer.json();
    if (typeof body !== 'object' || body === null) return false;
    return answer.status === 200 ? 'status' in body && 'writtenAt' in body : answer.status === 503 && 'detail' in body;
  } catch {
    return false;
  }
}

function stateOf(host: string, port: number): Promise<PortState> {
  return new Promise((resolve) => {
    const socket = connect({ host, port, timeout: answerWithinMs });
    const done = (state: PortState): void => {
      socket.destroy();
      resolve(state);
    };
    socket.once('connect', () => { done('in use'); });
    socket.once('error', () => { done('free'); });
    socket.once('timeout', () => { done('silent'); });
  });
}
