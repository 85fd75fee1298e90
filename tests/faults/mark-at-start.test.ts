import mqtt from 'mqtt';
import { describe, expect, it } from 'vitest';
import { awaitMark, expectedMark } from './ask-service.js';
import { scratchDir, startProcess } from './service-process.js';

describe('the stored mark of a carriage that sends nothing any more', () => {
  it.each(['SIGTERM', 'SIGKILL'] as const)('is retained again after a start that follows %s', async (signal) => {
    const dir = scratchDir();
    let service = startProcess({ dataDir: dir.path });
    try {
      const { mqtt: url } = await service.listening;
      const client = await mqtt.connectAsync(url, { clientId: 'quiet' });
      const seqs = [5, 6, 7, 9, 10];
      for (const seq of seqs) await client.publishAsync('weld/s/quiet/readings', JSON.stringify({ boot: 'b1', seq, time: Date.now(), current: 0, voltage: 0 }), { qos: 1 });
      await client.endAsync();
      await service.kill(signal);
      service = startProcess({ dataDir: dir.path });
      await expect(awaitMark((await service.listening).mqtt, 's', 'quiet', [expectedMark('b1', seqs)], 5)).resolves.toBeUndefined();
    } finally {
      await service.kill('SIGTERM');
      dir.remove();
    }
  });
});
