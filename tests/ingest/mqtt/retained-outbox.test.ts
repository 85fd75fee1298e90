import { describe, expect, it } from 'vitest';
import { retainedOutbox, type Send } from '../../../services/ingest/mqtt/retained-outbox.js';

/** A connection that records its messages and answers when asked to. */
function line() {
  const sent: string[] = [];
  const answers: ((taken: boolean) => void)[] = [];
  const send: Send = (topic, payload, done) => {
    sent.push(`${topic}=${payload}`);
    answers.push(done);
  };
  return { sent, answers, send };
}

describe('retained messages of our own', () => {
  it('wait for a connection, the newest alone', () => {
    const outbox = retainedOutbox();
    outbox.put('a', '1');
    outbox.put('a', '2');
    const { sent, send } = line();
    outbox.connected(send);
    expect(sent).toEqual(['a=2']);
  });

  it('go out one at a time for each topic, the last one last', () => {
    const outbox = retainedOutbox();
    const { sent, answers, send } = line();
    outbox.connected(send);
    for (const payload of ['1', '2', '3']) outbox.put('a', payload);
    expect(sent).toEqual(['a=1']);
    answers[0]?.(true);
    expect(sent).toEqual(['a=1', 'a=3']);
  });

  it('go out again on the next connection where only we publish them: nobody knows what the broker has kept', () => {
    const outbox = retainedOutbox();
    const first = line();
    outbox.connected(first.send);
    outbox.put('weld/s/c/alarms', '1');
    outbox.put('weld/s/c/stored', '1');
    first.answers[0]?.(true);
    outbox.disconnected();
    // An answer that comes after the end counts for nothing.
    first.answers[1]?.(true);
    const second = line();
    outbox.connected(second.send);
    expect(second.sent).toEqual(['weld/s/c/alarms=1', 'weld/s/c/stored=1']);
  });
  it('are not sent again if carriages publish too, as theirs may be newer', () => {
    const outbox = retainedOutbox();
    const first = line();
    outbox.connected(first.send);
    outbox.put('weld/s/c/assignment', '1');
    outbox.put('weld/s/d/assignment', '1');
    first.answers[0]?.(true);
    outbox.disconnected();
    const second = line();
    outbox.connected(second.send);
    expect(second.sent).toEqual(['weld/s/d/assignment=1']);
  });
});
