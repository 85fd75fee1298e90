import { hasMosquitto } from '../ingest/mqtt/start-mosquitto.js';
import { alarmScenario } from './alarm-scenario.js';
import { alarmSignals } from './alarm-signals.js';
import { arrivalScenario } from './arrival-scenario.js';
import { brokerKillLoop } from './broker-kill-loop.js';
import { busyScenario } from './busy-scenario.js';
import { clockScenario } from './clock-scenario.js';
import { noFailingFiles } from './failing-files.js';
import { noFakeTime } from './fake-time.js';
import { noSmallDisk } from './full-disk.js';
import { hostileScenario } from './hostile-scenario.js';
import { importScenario } from './import-scenario.js';
import { killLoop } from './kill-loop.js';
import { manyCarriages, neglectedAlarms } from './neglect-scenario.js';
import { networkScenario } from './network-scenario.js';
import { openRun } from './open-run-scenario.js';
import type { Outcome } from './outcome.js';
import { powerLoss } from './power-loss-scenario.js';
import { repeatScenario, tooLateScenario } from './repeat-scenario.js';
import { serviceClockScenario } from './service-clock-scenario.js';
import { silentScenario } from './silent-scenario.js';
import { staleMark } from './stale-mark.js';
import { storeGone } from './store-gone.js';
import { flippedBits } from './flipped-scenario.js';
import { failingStorage, fullDisk } from './storage-scenarios.js';
import { noStrace, syncScenario } from './sync-scenario.js';

export interface FaultRow {
  readonly name: string;
  /** How it is made, in a few words. */
  readonly how: string;
  /** How much there is to do in the long run, and how much of it at once, under one seed. */
  readonly total: number;
  readonly piece: number;
  /** A share of it would show nothing: it is done whole, whatever the share. */
  readonly whole?: true;
  /** Whether items that were acknowledged are counted one by one beside the service, so that lost and twice are numbers. */
  readonly countsItems: boolean;
  readonly leftOut: string | null;
  readonly run: (count: number, seed: number) => Promise<Outcome>;
}

const noMosquitto = hasMosquitto ? null : 'Mosquitto is not installed';

const failing = (count: number) => ({ writesTo: count, writesStep: 1, syncs: Math.ceil(count / 3) });

/** Every fault that is counted, with its count in the long run. */
export const faultRows: readonly FaultRow[] = [
  { name: 'kill, embedded broker', how: 'SIGKILL of the service at random instants under load, also while it starts', total: 500, piece: 50, countsItems: true, leftOut: null, run: (count, seed) => killLoop(count, seed) },
  { name: 'kill, outside broker', how: 'the same, on a Mosquitto that keeps the session', total: 500, piece: 50, countsItems: true, leftOut: noMosquitto, run: (count, seed) => killLoop(count, seed, 'outside broker') },
  { name: 'broker killed', how: 'SIGKILL of Mosquitto; it forgets up to 1 s, carriages send again from the stored mark', total: 200, piece: 20, countsItems: true, leftOut: noMosquitto, run: brokerKillLoop },
  { name: 'stale mark', how: 'Mosquitto comes back with an older session and nothing new is sent', total: 10, piece: 1, countsItems: false, leftOut: noMosquitto, run: (_count, seed) => staleMark(seed) },
  { name: 'network, embedded broker', how: 'connections of carriages cut at random bytes, half open, a few kB/s', total: 300, piece: 30, countsItems: true, leftOut: null, run: (count, seed) => networkScenario(count, seed, 'embedded broker') },
  { name: 'network, outside broker', how: 'the same, of the service to Mosquitto', total: 300, piece: 30, countsItems: true, leftOut: noMosquitto, run: (count, seed) => networkScenario(count, seed, 'outside broker') },
  { name: 'disk full', how: 'a small tmpfs filled under load; every second time with a kill', total: 20, piece: 4, countsItems: true, leftOut: noSmallDisk(), run: fullDisk },
  { name: 'failing writes', how: 'the n-th write fails, for each n up to the count; a third as many syncs; then all writes for a while', total: 300, piece: 300, countsItems: true, leftOut: noFailingFiles(), run: (count, seed) => failingStorage({ ...failing(count), slowSyncMs: 0 }, seed) },
  { name: 'failing writes, slow syncs', how: 'the same, where every sync takes 8 ms longer', total: 300, piece: 300, countsItems: true, leftOut: noFailingFiles(), run: (count, seed) => failingStorage({ ...failing(count), slowSyncMs: 8 }, seed) },
  { name: 'power loss', how: 'images of the disk at a call: what was synced, and any part of the rest, torn and out of order', total: 5_000, piece: 500, countsItems: true, leftOut: noFailingFiles(), run: powerLoss },
  { name: 'sync before PUBACK', how: 'system calls traced: written and synced before each PUBACK', total: 5_000, piece: 1_000, countsItems: false, leftOut: noStrace(), run: syncScenario },
  { name: 'store gone', how: 'the data folder or its file deleted, or replaced by a copy, under a service that stores', total: 300, piece: 30, countsItems: false, leftOut: null, run: storeGone },
  { name: 'flipped bits', how: 'copies of a store with one bit or 40 turned over: refused in words, or every answer right or told to be none', total: 300, piece: 20, countsItems: true, leftOut: null, run: flippedBits },
  { name: 'repeats', how: 'seeded streams, items 2 to 5 times, shuffled, some after the end, against the same in order', total: 20_000, piece: 500, countsItems: false, leftOut: null, run: repeatScenario },
  { name: 'any order of arrival', how: 'newest first, halves and blocks swapped, any item first, over minutes of welding, kills and checkpoints, against the same in order', total: 20_000, piece: 100, countsItems: true, leftOut: null, run: (count, seed) => arrivalScenario(count, seed) },
  { name: 'too late', how: 'items before and after a run is locked', total: 50, piece: 1, countsItems: false, leftOut: null, run: (_count, seed) => tooLateScenario(seed) },
  { name: 'clocks', how: 'an hour off, stepping back, missing, 1970, 2106', total: 5_000, piece: 110, countsItems: false, leftOut: null, run: clockScenario },
  { name: 'clock of the service', how: 'set by seconds, hours and years, back and forth, while carriages weld and then fall silent', total: 300, piece: 50, countsItems: true, leftOut: noFakeTime(), run: serviceClockScenario },
  { name: 'hostile payloads', how: 'mutated JSON, NaN, 1e308, 10 MiB, bad UTF-8, deep nesting, beside carriages that weld', total: 1_000_000, piece: 50_000, countsItems: true, leftOut: null, run: hostileScenario },
  { name: 'alarm signals', how: 'noise at the limit, flaps, silence, kills, late items, against a plain model', total: 20_000, piece: 1_000, countsItems: false, leftOut: null, run: alarmSignals },
  { name: 'alarm states', how: 'SIGKILL with an alarm in each state', total: 100, piece: 10, countsItems: false, leftOut: null, run: alarmScenario },
  { name: 'neglected alarms', how: 'this many cleared alarms on each of 50 carriages, acknowledged by nobody; feed, lists, retained topic and sizes', total: 500, piece: 500, whole: true, countsItems: false, leftOut: null, run: neglectedAlarms },
  { name: 'many carriages', how: 'this many carriages that sent once; PUBACK of another, feed, metrics, idle cost, next start', total: 5_000, piece: 5_000, whole: true, countsItems: false, leftOut: null, run: manyCarriages },
  { name: 'run left open, days', how: 'a run that welds on and off for so many days, with thousands of excursions and alarms that nobody acknowledged, goes on at 10 Hz; PUBACK of it and of another, cores, memory, sizes and answers', total: 7, piece: 7, whole: true, countsItems: false, leftOut: null, run: (days, seed) => openRun(days, 20, seed) },
  { name: 'silent connections', how: 'so many connections that never say a word, and come again when closed; carriages are let in and acknowledged beside them', total: 1_000, piece: 1_000, whole: true, countsItems: false, leftOut: null, run: silentScenario },
  { name: 'busy, s', how: '50 carriages at 10 Hz while every answer is asked for', total: 600, piece: 600, countsItems: true, leftOut: null, run: (count, seed) => busyScenario({ carriages: 50, seconds: count }, seed) },
  { name: 'log imported, MB', how: 'a CSV log imported while a carriage welds: memory of the process, and what a PUBACK waits', total: 125, piece: 125, whole: true, countsItems: false, leftOut: null, run: importScenario },
];
