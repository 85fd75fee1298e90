import mqtt from 'mqtt';
import { childOptions, onParent, tellParent } from './bench-child.js';

/** What the client library can do at most: it takes every message, looks at nothing, and acknowledges at once. */
const { url, clientId } = childOptions() as { url: string; clientId: string };
let count = 0;
const client = mqtt.connect(url, { clientId, clean: false, reconnectPeriod: 0 });
client.on('message', () => {
  count += 1;
});
client.on('connect', () => {
  client.subscribe('weld/+/+/+', { qos: 1 }, () => { tellParent('subscribed'); });
});
onParent(() => { tellParent(count); });
