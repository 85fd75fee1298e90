import { describe, expect, it } from 'vitest';
import { declareSensors } from '../../services/ingest/writer/declare-sensors.js';
import type { Sensors } from '../../shared/weld/procedure/sensors.js';
import { expectAccounted } from './accounted.js';
import { commit, finishAll, hall, killed, storedRuns } from './arrive.js';
import type { OpenStreams } from './open-streams.js';
import { useOpenStreams } from './use-open-streams.js';

let own: OpenStreams;
useOpenStreams((opened) => { own = opened; });

const start = Date.UTC(2026, 10, 25);
/** Copper of 95 mm², 50 m out and back together: 9.4 mΩ, 5.64 V at 600 A (resistivity 1.78e-8 Ω·m). */
const atSource: Sensors = { travelSource: 'encoder', arcs: [{ arc: 1, voltagePickup: 'source', cableResistance: 9.4 }] };
const atTube: Sensors = { arcs: [{ arc: 1, voltagePickup: 'contactTube' }] };

function declare(sensors: Sensors): void {
  commit(own, () => { declareSensors(own.streams().stream(hall, 'c1', ''), sensors, 'qa', own.streams().fold); });
}

function assign(run: number | null): void {
  commit(own, () => { own.take(`weld/${hall}/c1/assignment`, run === null ? '' : JSON.stringify({ seam: 'S1', run })); });
}

/** Readings at 10 Hz of 600 A, 34 V and 550 mm/min, or of nothing. */
const reading = (seq: number, on: boolean): object => ({ boot: 'b1', seq, time: start + seq * 100, current: on ? 600 : 0, voltage: on ? 34 : 0, travelSpeed: on ? 550 : 0 });

function send(from: number, to: number, on = true): void {
  commit(own, () => { own.take(`weld/${hall}/c1/readings`, JSON.stringify(Array.from({ length: to - from }, (_, k) => reading(from + k, on)))); });
  own.now += 200_000;
}

/** 34 V less 600 A × 9.4 mΩ = 28.36 V; 28.36 × 600 × 60 / (550 × 1000) = 1.856291 kJ/mm, and 2.225455 of what was sent (arithmetic). */
const [corrected, asSent] = [1.8562909, 2.2254545];
const heats = (): number[] => storedRuns(own, 'c1').map(({ heatInput }) => heatInput as number);
const close = (value: number): number => expect.closeTo(value, 6) as number;

describe('voltage picked up at the power source', () => {
  it('is corrected for the cable before anything else, and what was sent stays', () => {
    declare(atSource);
    assign(1);
    send(0, 300);
    send(300, 340, false);
    finishAll(own);
    expect(storedRuns(own, 'c1')).toMatchObject([{
      heatInput: close(corrected), travel: 'measured',
      sensors: { revision: 1, by: 'qa', travelSource: 'encoder', pastDue: [] },
      arcs: [{ voltage: { mean: close(28.36), max: close(28.36) }, voltageRaw: { mean: close(34), min: 34, max: 34, standardDeviation: 0, rms: close(34) } }],
    }]);
    expect(asSent / corrected).toBeCloseTo(34 / 28.36, 6);
  });

  it('decides whether the arc is on', () => {
    // 12 V at the source with 600 A are 6.36 V at the arc, too little for one.
    declare(atSource);
    commit(own, () => { own.take(`weld/${hall}/c1/readings`, JSON.stringify(Array.from({ length: 50 }, (_, seq) => ({ ...reading(seq, true), voltage: 12 })))); });
    finishAll(own);
    expect(storedRuns(own, 'c1')).toEqual([]);
  });
});

describe('a declaration', () => {
  it('holds for runs that are lit after it; a run that was lit before keeps its own, also where it is lit again and where readings come late', () => {
    assign(1);
    send(0, 100);
    declare(atSource);
    send(110, 200);
    send(200, 240, false);
    // Lit again within the run, and after a kill.
    killed(own);
    send(240, 340);
    send(340, 380, false);
    send(100, 110);
    assign(2);
    send(380, 480);
    declare(atTube);
    send(480, 500);
    send(500, 560, false);
    finishAll(own);
    expect(storedRuns(own, 'c1').map(({ sensors, arcs }) => [sensors, (arcs as { voltageRaw: object | null }[])[0]?.voltageRaw])).toMatchObject([[null, null], [{ revision: 1 }, { mean: close(34) }]]);
    expect(heats()).toEqual([close(asSent), close(corrected)]);
    assign(3);
    send(560, 700);
    send(700, 740, false);
    finishAll(own);
    expect(heats()).toEqual([close(asSent), close(corrected), close(asSent)]);
    expect(storedRuns(own, 'c1')[2]).toMatchObject({ sensors: { revision: 2 }, travel: null });
    expectAccounted(own.folder, { now: own.now, lateFor: 900e6 });
  });

  it('that comes while the arc burns under one run holds from the next run on, though the arc burns through', () => {
    assign(1);
    send(0, 100);
    declare(atSource);
    send(100, 150);
    assign(2);
    send(150, 300);
    send(300, 340, false);
    finishAll(own);
    expect(heats()).toEqual([close(asSent), close(corrected)]);
  });

  it('does not hold for an arc that was being lit when it came', () => {
    assign(1);
    send(0, 20, false);
    send(20, 21);
    declare(atSource);
    send(21, 200);
    send(200, 240, false);
    finishAll(own);
    expect(storedRuns(own, 'c1')).toMatchObject([{ sensors: null, heatInput: close(asSent) }]);
  });

  it('gives the same figures whatever the order of arrival after it', () => {
    declare(atSource);
    assign(1);
    for (const at of [400, 300, 200, 100, 0]) send(at, at + 100, at < 350);
    finishAll(own);
    expect(storedRuns(own, 'c1')).toMatchObject([{ sensors: { revision: 1 }, heatInput: close(corrected) }]);
    // Half a minute of what was sent again changes nothing.
    send(0, 300);
    finishAll(own);
    expect(storedRuns(own, 'c1')).toMatchObject([{ heatInput: close(corrected), version: 1 }]);
  });

  it('says what was past due when the run was lit, to the end of the day in the shop\'s zone', () => {
    // The run is lit on 2026-11-25 at 00:00 UTC, which is the zone of these tests.
    const due = { arc: 1, calibrationDue: '2026-11-24' };
    declare({ travelSource: 'setPoint', travelCalibrationDue: '2026-11-25', arcs: [due, { arc: 2, calibrationDue: '2026-11-24' }, { arc: 3 }] });
    assign(1);
    send(0, 100);
    finishAll(own);
    expect(storedRuns(own, 'c1')).toMatchObject([{ travel: 'declared', sensors: { pastDue: ['current arc 1', 'voltage arc 1', 'current arc 2', 'voltage arc 2'] } }]);
  });

  it('of a current without its sign raises no alarm of polarity', () => {
    const procedure = { id: 'P', runGroups: [{ runs: [1, 9], arcs: [{ arc: 1, currentType: 'DC', polarity: 'EP' }] }] };
    const negative = (from: number): void => {
      commit(own, () => { own.take(`weld/${hall}/c1/readings`, JSON.stringify(Array.from({ length: 60 }, (_, k) => ({ ...reading(from + k, true), current: -600, voltage: 30 })))); });
      send(from + 60, from + 100, false);
      assign(null);
      finishAll(own);
    };
    const polarity = (): unknown => own.db.prepare("select count(*) from alarms where record ->> '$.quantity' = 'polarity'").pluck().get();
    commit(own, () => {
      const { fold } = own.streams();
      fold.procedures.add('P', 1, JSON.stringify(procedure));
      fold.changes.procedures.push({ id: 'P', revision: 1, created: own.now, by: 'qa', body: JSON.stringify(procedure) });
      own.take(`weld/${hall}/c1/assignment`, JSON.stringify({ seam: 'S1', run: 1, procedure: 'P' }));
    });
    negative(0);
    expect(polarity()).toBe(1);
    declare({ arcs: [{ arc: 1, signedCurrent: false }] });
    commit(own, () => { own.take(`weld/${hall}/c1/assignment`, JSON.stringify({ seam: 'S1', run: 2, procedure: 'P' })); });
    negative(100);
    expect(polarity()).toBe(1);
  });
});

describe('sensors that are declared while the arc is out', () => {
  const withTravel = (from: number, to: number, on: boolean, travel: (seq: number) => number): void => {
    commit(own, () => { own.take(`weld/${hall}/c1/readings`, JSON.stringify(Array.from({ length: to - from }, (_, k) => ({ ...reading(from + k, on), travel: travel(from + k) })))); });
    own.now += 20_000;
  };
  const cable = (cableResistance: number): Sensors => ({ arcs: [{ arc: 1, voltagePickup: 'source', cableResistance }] });
  const means = (): unknown[] => storedRuns(own, 'c1').map(({ attempt, sensors, arcs }) => [attempt, (sensors as { revision: number }).revision, (arcs as { voltage: { mean: number } }[])[0]?.voltage.mean]);

  // 34 V less 600 A × 5 and × 10 mΩ: 31 and 28 V (Ohm's law).
  it.each([[1000, [[1, 1, close(31)], [2, 2, close(28)]]], [200, [[1, 1, close(31)]]]])('hold for an arc lit at %d mm, or not, as it is the next attempt or the same run', (lit, expected) => {
    declare(cable(5));
    assign(1);
    withTravel(0, 100, true, (seq) => seq);
    withTravel(100, 150, false, () => 100);
    declare(cable(10));
    withTravel(150, 200, false, (seq) => 100 + ((lit - 100) * (seq - 150)) / 50);
    withTravel(200, 300, true, (seq) => lit + seq - 200);
    withTravel(300, 340, false, () => lit + 100);
    finishAll(own);
    expect(means()).toEqual(expected);
    expectAccounted(own.folder, { now: own.now });
  });
});
