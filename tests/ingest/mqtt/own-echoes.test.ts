import { describe, expect, it } from 'vitest';
import { ownEchoes } from '../../../services/ingest/mqtt/own-echoes.js';

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

describe('our own messages that come back', () => {
  it('are distinguished from messages of others by topic and content', () => {
    const echoes = ownEchoes();
    echoes.sent('a', '1');
    echoes.sent('a', '2');
    expect(echoes.overtaken('b', bytes('1'))).toBe(false);
    expect(echoes.overtaken('a', bytes('3'))).toBe(false);
    expect(echoes.overtaken('a', bytes('1'))).toBe(true);
  });

  it('count if none of our own messages is behind them', () => {
    const echoes = ownEchoes();
    for (const own of ['1', '2', '']) echoes.sent('a', own);
    // The second never came back; the third did, which shows that the second will not.
    expect(echoes.overtaken('a', bytes('1'))).toBe(true);
    expect(echoes.overtaken('a', bytes(''))).toBe(false);
    expect(echoes.overtaken('a', bytes('2'))).toBe(false);
  });
});
