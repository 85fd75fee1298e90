import mqtt from 'mqtt';
import type { StoredBoot } from './ask-service.js';

/** How far carriages are ahead of what is stored of them. */
export interface LeadWatch {
  /** Sequence numbers between the newest that was sent and the stored mark. */
  lead(carriage: string, newest: number): number;
  close(): Promise<void>;
}

export async function watchLead(url: string, site: string): Promise<LeadWatch> {
  const stored = new Map<string, number>();
  const client = await mqtt.connectAsync(url, { clientId: 'watches' });
  client.on('message', (topic, payload) => {
    const { boots } = JSON.parse(payload.toString('utf8')) as { boots: StoredBoot[] };
    stored.set(topic.split('/')[2] ?? '', boots[0]?.seq ?? -1);
  });
  await client.subscribeAsync(`weld/${site}/+/stored`, { qos: 1 });
  return {
    lead: (carriage, newest) => newest - (stored.get(carriage) ?? -1),
    close: () => client.endAsync(true),
  };
}
