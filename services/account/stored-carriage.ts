import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import type { Anchor, Timeline } from '../../shared/weld/run/assignment-timeline.js';
import type { SensorTimeline } from '../../shared/weld/run/sensor-timeline.js';
import { decodeReadings } from '../../shared/weld/decode/decode-readings.js';
import { decodeSenml } from '../../shared/weld/decode/decode-senml.js';
import { tallyItem, type ItemTally } from '../../shared/weld/items/item-tally.js';
import { bootName, orderItem, type OrderedItem } from '../../shared/weld/items/order.js';
import { addSeq, emptySeqSet, type SeqSet } from '../../shared/weld/items/seq-marks.js';
import { readMarks, type MarkPiece } from '../../shared/weld/items/seq-marks-text.js';
import { sensorRevision } from '../../shared/records/sensors.js';
import type { SqliteFile } from '../../shared/records/open-database.js';
import type { CheckpointPlace } from '../ingest/fold/fold-checkpoint.js';
import { arrivalsPerMessage } from '../ingest/fold/message-log.js';
import { messagesOf } from '../ingest/store/kept-rows.js';
import type { KeptRow } from '../ingest/store/statements.js';

export interface StoredBoot {
  readonly boot: string;
  readonly rank: number;
  readonly arcs: Record<number, SeqSet>;
  /** Null in a store of an earlier version. */
  readonly taken: ItemTally | null;
}

export interface StoredCheckpoint {
  readonly id: number;
  readonly keptFrom: number;
  readonly place: CheckpointPlace;
}

/** What the store holds of one carriage (or one imported log), read by plain queries. */
export interface StoredCarriage {
  readonly id: number;
  readonly site: string;
  readonly carriage: string;
  /** Empty for items that the carriage sent itself. */
  readonly stream: string;
  readonly boots: readonly StoredBoot[];
  readonly kept: readonly OrderedItem[];
  readonly late: readonly Pick<OrderedItem, 'rank' | 'key' | 'arc'>[];
  readonly checkpoints: readonly StoredCheckpoint[];
  readonly timeline: Timeline;
  readonly sensors: SensorTimeline;
}

type Name = Pick<StoredCarriage, 'id' | 'site' | 'carriage' | 'stream'>;

export function storedNames(db: SqliteFile): Name[] {
  return db.prepare<[], Name>('select id, site, carriage, stream from streams order by site, carriage, stream').all();
}

/** Throws if some of it cannot be read. */
export function readCarriage(db: SqliteFile, name: Name): StoredCarriage {
  const { id } = name;
  const pieces = db.prepare<[number], MarkPiece>('select arc, piece, steps from mark_pieces where boot_id = ? order by arc, piece');
  const rows = db.prepare<[number], { id: number; boot: string; rank: number; marks: string; taken: string | null; through: number | null }>('select id, boot, rank, marks, taken, through from boots where stream_id = ?').all(id);
  const through = Math.max(...rows.map((row) => row.through ?? -Infinity));
  const boots = rows.map(({ id: own, boot, rank, marks, taken }): StoredBoot => ({ boot, rank, arcs: readMarks(marks, pieces.all(own)).arcs, taken: taken === null ? null : (JSON.parse(taken) as ItemTally) }));
  const ranks = new Map(boots.map(({ boot, rank }) => [boot, rank]));
  const kept = db.prepare<[number], KeptRow>('select id, arrived, kind, payload, taken, first from kept where stream_id = ? order by id').all(id)
    .flatMap(messagesOf)
    .flatMap(({ number, arrived, kind, payload, taken }) => {
      const { items } = kind === 'senml' ? decodeSenml(payload, arrived) : decodeReadings(payload);
      return items.flatMap((entry, position): OrderedItem[] => {
        if (entry.kind !== 'item' || taken?.includes(position) === false) return [];
        const rank = ranks.get(bootName(entry.item));
        if (rank === undefined) throw new Error(`a kept message names the boot ${bootName(entry.item)}, which is not stored`);
        return [orderItem(entry.item, rank, arrived, number * arrivalsPerMessage + position)];
      });
    });
  // Marks and account are written from time to time, and include what had been kept by then.
  if (through > -Infinity) for (const item of kept) if (item.arrival >= (through + 1) * arrivalsPerMessage) countKept(boots, item);
  const late = db.prepare<[number], { item: string }>('select item from late where run_id in (select id from runs where stream_id = ?)').all(id)
    .map(({ item }) => JSON.parse(item) as OrderedItem);
  const checkpoints = db.prepare<[number], { id: number; kept_from: number; position: string }>('select id, kept_from, position from checkpoints where stream_id = ? order by id').all(id)
    .map((row): StoredCheckpoint => ({ id: row.id, keptFrom: row.kept_from, place: JSON.parse(row.position) as CheckpointPlace }));
  const timeline = db.prepare<[number], { anchor: string; body: string | null }>('select anchor, body from assignments where stream_id = ? order by id').all(id)
    .map(({ anchor, body }) => ({ anchor: JSON.parse(anchor) as Anchor, body: body === null ? null : (JSON.parse(body) as Assignment) }));
  const sensors = db.prepare<[number], Parameters<typeof sensorRevision>[0]>('select revision, at, by, after, body from sensors where stream_id = ? order by revision').all(id).map(sensorRevision);
  return { ...name, boots, kept, late, checkpoints, timeline, sensors };
}

function countKept(boots: readonly StoredBoot[], item: OrderedItem): void {
  const boot = boots.find(({ rank }) => rank === item.rank);
  if (boot === undefined) return;
  if (item.boot !== null && item.seq !== null) addSeq((boot.arcs[item.arc] ??= emptySeqSet()), item.seq);
  if (boot.taken !== null) tallyItem(boot.taken, item);
}
