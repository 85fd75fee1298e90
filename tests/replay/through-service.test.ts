import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readCases } from './read-cases.js';
import { startService, type RunningService } from './start-service.js';
import { throughService } from './through-service.js';

describe('golden cases through the running service: MQTT in, API out', () => {
  let service: RunningService | null = null;

  beforeAll(async () => {
    service = await startService();
  });

  afterAll(async () => {
    await service?.stop();
  });

  it.each(readCases())('$name: $file.title', async (golden) => {
    if (service === null) throw new Error('the service is not running');
    expect(await throughService(service, golden), golden.file.source).toEqual([]);
  });
});
