import { childOptions, onParent, tellParent } from './bench-child.js';
import { queueSender, type SendPlan } from './queue-sender.js';

// Says `ready` when everything is encoded, sends when asked to, and reports what became of it.
const send = await queueSender(childOptions() as SendPlan);
onParent(() => {
  void send().then((result) => {
    tellParent(result);
    process.disconnect();
  });
});
tellParent('ready');
