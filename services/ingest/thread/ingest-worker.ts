import { parentPort, workerData, type MessagePort } from 'node:worker_threads';
import { systemClock } from '../clock.js';
import { openingError } from '../../../shared/records/damage.js';
import { openReader } from '../../../shared/records/open-database.js';
import { sqliteCode } from '../../../shared/sqlite/sqlite-error.js';
import { writeCounters } from '../writer/counters.js';
import { embeddedBroker } from '../mqtt/embedded-broker.js';
import type { MessageSource } from '../mqtt/message-source.js';
import { outsideBroker } from '../mqtt/outside-broker.js';
import { brokerAlarm } from './broker-alarm.js';
import { batchCommitStats } from './batch-commit-stats.js';
import { createRecorder } from '../writer/recorder.js';
import { storeWatch } from './store-watch.js';
import { openStore, type Store } from '../store/open-store.js';
import { quickerWriter } from '../store/quicker-writer.js';
import { answerCalls, topicsOf } from './worker-calls.js';
import type { FromWorker, ToWorker, WorkerStart } from './worker-protocol.js';

/** The thread that handles messages: MQTT in, commit, acknowledgement out, and nothing else. */
async function run(): Promise<void> {
  const port = parentPort;
  if (port === null) throw new Error('the ingest worker runs in a thread of its own');
  const { databaseFile } = workerData as WorkerStart;
  const db = openReader(databaseFile);
  const writer = await quickerWriter(databaseFile);
  const close = async (): Promise<void> => {
    await writer.close();
    db.close();
  };
  try {
    await serve(port, openStore(db, writer), close);
  } catch (thrown) {
    // Ending this thread would end the writing thread in the middle of its work.
    await close();
    throw thrown;
  }
}

async function serve(port: MessagePort, store: Store, close: () => Promise<void>): Promise<void> {
  const { settings, databaseFile, counters } = workerData as WorkerStart;
  const post = (message: FromWorker): void => { port.postMessage(message); };
  const log = (level: 'info' | 'warn' | 'error', text: string): void => { post({ type: 'log', level, text }); };
  const counted = writeCounters(counters);
  const source: MessageSource =
    settings.mqttUrl === null
      ? embeddedBroker({ host: settings.mqttHost, port: settings.mqttPort, oversize: 'trim', log })
      : outsideBroker({
          url: settings.mqttUrl,
          clientId: 'seamwarden',
          log,
          onConnection: (up, reason) => {
            if (up) counted.add('brokerConnects', 1);
            brokerTurned(up, reason);
          },
        });
  let held = false;
  let stopping = false;
  // The recorder publishes from its start, before there is a broker to publish to; retained messages must not get lost.
  let early: (() => void)[] | null = [];
  const recorder = createRecorder({
    store,
    fold: { settings: settings.weld, lateFor: settings.lateFor, timeZone: settings.timeZone },
    clock: systemClock,
    emit: (event, data) => {
      post({ type: 'event', event: { event, data } });
      if (event === 'carriage' && !stopping && early === null) publishLive(source, data);
    },
    counters: counted,
    onCommit: batchCommitStats((commits) => { post({ type: 'commits', commits }); }, systemClock),
    publish: (topic, payload, retain) => {
      const own = (): void => {
        if (!stopping) source.publish(topic, payload, retain);
      };
      if (early === null) own();
      else early.push(own);
    },
    onHealth: (health) => {
      post({ type: 'health', health });
      if (held === health.ok) {
        held = !health.ok;
        source.hold(held);
      }
    },
    onGone: (gone) => {
      for (const topic of topicsOf(gone)) source.publish(topic, '', true);
    },
    log,
    stillStored: storeWatch(databaseFile),
  });
  const brokerTurned = brokerAlarm(recorder.alarms, () => held || stopping, systemClock);
  recorder.start();
  const calls = answerCalls(recorder, source, store.statements, systemClock);
  calls.forgetCutLogs();
  const { url } = await source
    .start((message) => { recorder.take(message); })
    .catch((thrown: unknown) => {
      const reason = thrown instanceof Error ? thrown.message : String(thrown);
      throw new Error(settings.mqttUrl === null ? `SEAMWARDEN_MQTT_PORT: ${reason}` : reason);
    });
  for (const own of early) own();
  early = null;
  // Our own broker starts with nothing retained. An outside broker has the newest assignments, which may be newer than those we know of.
  if (settings.mqttUrl === null) for (const { topic, payload } of calls.assignmentsInForce()) source.publish(topic, payload, true);
  port.on('message', (message: ToWorker) => {
    if (message.type === 'call') {
      void calls.answer(message).then((answer) => { post({ type: 'reply', id: message.id, answer }); });
      return;
    }
    if (message.type === 'damaged') {
      recorder.tellDamage(message.what);
      return;
    }
    stopping = true;
    void source.stop().then(async () => {
      recorder.stop();
      await close();
      post({ type: 'stopped' });
      port.close();
    });
  });
  post({ type: 'ready', url, carriages: calls.carriages() });
}

function publishLive(source: MessageSource, data: string): void {
  const carriage = JSON.parse(data) as { site: string; carriage: string; welding: boolean };
  if (carriage.welding) source.publish(`weld/${carriage.site}/${carriage.carriage}/live`, data, false);
}

/** Whatever SQLite refuses at the start concerns the file, so the file is named. */
function reasonOf(thrown: unknown): string {
  if (sqliteCode(thrown) !== null) return openingError((workerData as WorkerStart).databaseFile, thrown).message;
  return thrown instanceof Error ? thrown.message : String(thrown);
}

run().catch((thrown: unknown) => {
  parentPort?.postMessage({ type: 'failed', reason: reasonOf(thrown) } satisfies FromWorker);
  parentPort?.close();
});
