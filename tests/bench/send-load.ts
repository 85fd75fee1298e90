import { startChild } from './bench-child.js';
import type { SendPlan, SendResult } from './queue-sender.js';

/** Sends from a process of its own, whose work is then nobody else's. Resolves once it has begun. */
export async function startLoad(plan: SendPlan): Promise<{ readonly done: Promise<SendResult> }> {
  const sender = startChild('send-process.ts', plan);
  await sender.hear();
  sender.say('go');
  return { done: sender.hear().then((result) => result as SendResult) };
}

export async function sendLoad(plan: SendPlan): Promise<SendResult> {
  const { done } = await startLoad(plan);
  return done;
}
