import mqtt from 'mqtt';
import { expect, it } from 'vitest';
import { scratchDir, startProcess } from './service-process.js';

// A message that came in several reads once left its connection waiting for ever: nothing told the broker to read on.
it('goes on reading when messages longer than one read lie among short ones', async () => {
  const dir = scratchDir();
  const service = startProcess({ dataDir: dir.path });
  try {
    const { mqtt: url } = await service.listening;
    for (const long of [70_000, 300_000, 1_200_000]) {
      const client = await mqtt.connectAsync(url, { reconnectPeriod: 0, clientId: `long-${long}` });
      const lengths = Array.from({ length: 200 }, (_, k) => (k % 50 === 30 ? long : 500));
      let acknowledged = 0;
      const all = lengths.map((length, k) => client.publishAsync('weld/long/c1/readings', Buffer.alloc(length, '['), { qos: k % 10 === 0 ? 2 : 1 }).then(() => (acknowledged += 1)));
      const given = await Promise.race([Promise.all(all).then(() => 'all' as const), new Promise<'late'>((resolve) => setTimeout(resolve, 15_000, 'late'))]);
      expect(given, `${acknowledged} of 200 were acknowledged, the long ones of ${long} bytes`).toBe('all');
      await client.endAsync();
    }
  } finally {
    await service.kill('SIGTERM');
    dir.remove();
  }
});
