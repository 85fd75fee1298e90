import { afterEach, describe, expect, it } from 'vitest';
import type { ProcedureBody } from '../../shared/api-types/procedure.js';
import { askedPreparation, missingOf } from '../../shared/weld/preparation/preparation.js';
import { procedureParameters } from '../../shared/weld/procedure/procedure-parameters.js';
import { checkBody } from '../../dashboards/procedures/check-body.js';
import { differences } from '../../dashboards/procedures/differences.js';
import { bodyOf } from '../../dashboards/procedures/draft-body.js';
import { draftOf } from '../../dashboards/procedures/draft.js';
import { entryText, givenNumber, typedNumber } from '../../dashboards/procedures/entry.js';
import { arcLimitNames, runLimitNames } from '../../shared/weld/quantities.js';
import { monitoringOf } from '../../dashboards/procedures/field-specs.js';
import { inputFor } from '../../dashboards/procedures/field-problem.js';
import { proposedPercent, windowAround } from '../../dashboards/procedures/mean-window.js';
import { readNumber } from '../../dashboards/shared/read-number.js';
import { chooseLanguage, chooseUnits } from '../../dashboards/shared/choices.js';

afterEach(() => {
  chooseUnits('metric');
  chooseLanguage('en');
});

/** As in the description of the API, with every kind of field. */
const whole: ProcedureBody = {
  id: 'SA-12', title: '20 mm butt, two sides', process: '121', thermalEfficiency: 1, qualificationRecord: 'PQ-044', weldingPosition: 'PA',
  parentMaterial: 'S355J2+N, EN 10025-2', parentMaterialGroup: '1.2', thickness: { min: 10, max: 25 }, outsideDiameter: { min: 500 },
  jointType: 'butt, double V', jointPreparation: '60°, root face 4 mm', backing: 'none', fluxClassification: 'ISO 14174 - S A AB 1',
  runGroups: [
    {
      name: 'first side', side: 1, runs: [1, 1],
      arcs: [
        {
          arc: 1, currentType: 'DC', polarity: 'EP', wireDiameter: 4, wireClassification: 'ISO 14171-A - S2Mo', wires: 1, offset: 0,
          current: { min: 580, max: 680 }, voltage: { min: 30, max: 34 }, wireFeedSpeed: { min: 1.1, max: 1.5 }, electrodeExtension: { min: 24, max: 40 },
          currentVariation: { max: 0.1 }, voltageVariation: { max: 0.08 },
        },
      ],
      travelSpeed: { min: 450, max: 560 }, heatInput: { min: 1.8, max: 3.1 }, t85: { min: 8, max: 40 }, preheat: { min: 15 }, interpassTemperature: { max: 250 }, shapeFactors: { f2: 0.9, f3: 0.67 },
    },
    { name: 'second side', side: 2, runs: [2, 3] },
  ],
  alarm: {
    smoothing: 1, onDelay: 1, offDelay: 3, deadband: 0.05, heatInputLength: 50, ignitionTime: 2, ignitionLength: 15, craterTime: 2,
    windows: { voltage: { priority: 'high', response: 'check the contact tube', responses: { zh: '检查导电嘴' } } },
  },
};

describe('a window around a mean value', () => {
  it('is rounded inwards', () => {
    // 234.8 A ± 10 %: 0.9 · 234.8 = 211.32 and 1.1 · 234.8 = 258.28; whole amperes inside are 212 to 258.
    expect(windowAround(234.8, 10, 0)).toEqual({ low: 211.32, high: 258.28, usableLow: 212, usableHigh: 258 });
    // 30 V ± 7 %: 27.9 and 32.1 exactly; what binary fractions make of 30 · 1.07 must take no tenth away.
    expect(windowAround(30, 7, 1)).toEqual({ low: 27.9, high: 32.1, usableLow: 27.9, usableHigh: 32.1 });
    // 1.31 m/min ± 10 %: 1.179 and 1.441.
    expect(windowAround(1.31, 10, 2)).toEqual({ low: 1.179, high: 1.441, usableLow: 1.18, usableHigh: 1.44 });
    expect(windowAround(600, 0, 0)).toEqual({ low: 600, high: 600, usableLow: 600, usableHigh: 600 });
  });

  it('is null if nothing whole lies within, or if the input is not a mean', () => {
    expect(windowAround(0.5, 10, 0)).toBeNull();
    for (const [mean, percent] of [[0, 10], [-5, 10], [600, 100], [600, -1], [Number.NaN, 10], [600, Number.NaN]] as const) expect(windowAround(mean, percent, 0)).toBeNull();
  });

  it('proposes the values of AWS D1.1:2015, Table 4.5, for submerged arc', () => {
    expect(proposedPercent).toEqual({ current: 10, voltage: 7, travelSpeed: 15, wireFeedSpeed: 10 });
  });
});

describe('what is typed', () => {
  it('is kept to the digit in the units of the API', () => {
    expect(typedNumber('558.8', 'travelSpeed').value).toBe(558.8);
    expect(typedNumber(' \u22125.25 ', 'fineLength').value).toBe(-5.25);
    expect(typedNumber('7', 'currentVariation').value).toBe(0.07);
    expect(typedNumber('', 'travelSpeed').value).toBeNull();
    for (const text of ['1e3', 'thirty', '--1', '.', '1.2.3']) expect(typedNumber(text, 'voltage').value, text).toBeNaN();
  });

  it('may have a decimal comma, which is never taken for a thousands separator nor one for it', () => {
    for (const [text, value] of [['30,5', 30.5], ['0,156', 0.156], ['1234,5', 1234.5], ['1,2345', 1.2345], ['\uff13\uff10\uff0c\uff15', 30.5], ['12 345,5', 12345.5], ['1 200', 1200]] as const) {
      expect(readNumber(text), text).toEqual({ is: 'number', value });
    }
    for (const text of ['1,234', '12,500', '-1,234']) expect(readNumber(text), text).toEqual({ is: 'thousands' });
    for (const text of ['1,234,567', '1,234.5', '1.234,5', '12 34', ',', '5/32', '5\u00bd']) expect(readNumber(text), text).toEqual({ is: 'noNumber' });
    expect(typedNumber('1,234', 'travelSpeed').value).toBeNaN();
    expect(bodyOf({ fields: { thermalEfficiency: typedNumber('1,234', null) }, groups: [] }).wrong).toEqual([{ field: 'thermalEfficiency', reason: { is: 'thousands' } }]);
  });

  it('is converted from US units, and comes back as it was typed', () => {
    chooseUnits('us');
    // 1 in = 25.4 mm; °C = (°F − 32) / 1.8. Seven digits are kept: 50 / 25.4 = 1.968503937…, 28 / 1.8 = 15.555….
    const cases = [['22', 'travelSpeed', 558.8], ['50', 'heatInput', 1.968504], ['60', 'temperature', 15.55556], ['482', 'temperature', 250], ['0.156', 'travelled', 3.9624], ['100', 'wireFeedSpeed', 2.54]] as const;
    for (const [text, quantity, kept] of cases) {
      const entry = typedNumber(text, quantity);
      expect(entry.value, text).toBe(kept);
      expect(entryText(entry, quantity)).toBe(text);
      // As it comes back from the service, without the text.
      expect(entryText(givenNumber(kept), quantity)).toBe(text);
    }
  });

  it('may be a fraction of an inch, and wire is shown in the size in which it is sold', () => {
    // 5/32 · 25.4 = 3.96875; 1 1/4 · 25.4 = 31.75.
    expect(typedNumber('5/32', 'wireDiameter').value).toBeNaN();
    chooseUnits('us');
    expect(typedNumber('5/32', 'wireDiameter').value).toBe(3.96875);
    expect(typedNumber('1 1/4', 'electrodeExtension').value).toBe(31.75);
    expect(typedNumber('1/2', 'voltage').value).toBeNaN();
    expect(typedNumber('5/0', 'wireDiameter').value).toBeNaN();
    for (const [diameter, size] of [[4, '5/32'], [3.96875, '5/32'], [3.2, '1/8'], [2.4, '3/32'], [6.4, '1/4'], [1.6, '1/16'], [5, '0.197'], [1.2, '0.047']] as const) {
      expect(entryText(givenNumber(diameter), 'wireDiameter'), String(diameter)).toBe(size);
    }
    // 15 / 25.4 = 0.590551…; 723 / 25.4 = 28.46457…; 1.7 · 25.4 = 43.18.
    for (const [value, quantity, text] of [[15, 'fineLength', '0.59'], [723, 'travelSpeed', '28.5'], [977, 'travelSpeed', '38.5'], [1.7, 'heatInput', '43.18'], [0, 'fineLength', '0']] as const) {
      expect(entryText(givenNumber(value), quantity), String(value)).toBe(text);
    }
  });

  it('follows a change of units', () => {
    const entry = typedNumber('558.8', 'travelSpeed');
    chooseUnits('us');
    expect(entryText(entry, 'travelSpeed')).toBe('22');
    chooseUnits('metric');
    expect(entryText(entry, 'travelSpeed')).toBe('558.8');
  });
});

describe('the form and the schema of the API', () => {
  it('returns a procedure as it came, in either system of units', () => {
    const draft = draftOf(whole);
    expect(bodyOf(draft)).toEqual({ body: whole, wrong: [] });
    chooseUnits('us');
    expect(bodyOf(draftOf(whole))).toEqual({ body: whole, wrong: [] });
    expect(checkBody(whole)).toEqual([]);
  });

  it('names the field for all that the schema refuses', () => {
    const found = checkBody({
      id: 'a b', thermalEfficiency: 2, title: 'x'.repeat(201), alarm: { deadband: 0.7 },
      runGroups: [{ runs: [undefined, 3], side: 1.5, travelSpeed: { min: 5, max: 3 }, preheat: { min: -300 }, arcs: [{ arc: 1 }, { arc: 1 }] }, { runs: [3, 1], arcs: [{ arc: 7, wireDiameter: 0 }] }],
    });
    expect(Object.fromEntries(found.map(({ field, reason }) => [field, reason]))).toEqual({
      id: { is: 'idShape' },
      title: { is: 'tooLong', limit: 200 },
      thermalEfficiency: { is: 'atMost', limit: 1 },
      'runGroups[0].runs[0]': { is: 'needed' },
      'runGroups[0].side': { is: 'whole' },
      'runGroups[0].travelSpeed.min': { is: 'minOverMax' },
      'runGroups[0].preheat.min': { is: 'atLeast', limit: -273.15 },
      'runGroups[0].arcs': { is: 'arcTwice' },
      'runGroups[1].runs': { is: 'runsOrder' },
      'runGroups[1].arcs[0].arc': { is: 'atMost', limit: 6 },
      'runGroups[1].arcs[0].wireDiameter': { is: 'moreThan', limit: 0 },
      'alarm.deadband': { is: 'atMost', limit: 0.5 },
    });
  });

  it('shows a problem without an input of its own at the first input below it', () => {
    const inputs = ['id', 'runGroups[0].runs[0]', 'runGroups[0].runs[1]', 'runGroups[0].travelSpeed.min', 'runGroups[0].arcs[0].arc', 'runGroups[0].arcs[1].arc'];
    expect(inputFor('runGroups[0].runs', inputs)).toBe('runGroups[0].runs[0]');
    expect(inputFor('runGroups[0].travelSpeed', inputs)).toBe('runGroups[0].travelSpeed.min');
    expect(inputFor('runGroups[0].arcs', inputs)).toBe('runGroups[0].arcs[0].arc');
    expect(inputFor('runGroups[1].runs', inputs)).toBeUndefined();
  });
});

describe('what limits are used for', () => {
  it('is said as the program does it: watched along the run are those that make a run\u2019s limits', () => {
    const { windows } = procedureParameters(whole, { run: 1, side: 1 });
    const watched = [...Object.keys(windows?.arcs[1] ?? {}), ...Object.keys(windows?.run ?? {})];
    expect([...arcLimitNames, ...runLimitNames].filter((name) => monitoringOf(name) === 'along').toSorted()).toEqual(watched.toSorted());
    // Held against what is entered before the arc start: a value outside is missing preparation.
    const [group] = whole.runGroups ?? [];
    const entered = { arcs: [{ arc: 1, wireDiameter: 4, electrodeExtension: 50 }], preparation: { preheatMeasured: 5 } };
    const outside = askedPreparation(entered, group).flatMap(missingOf).filter(({ reason, against }) => reason === 'outside' && against === 'procedure').map(({ entry }) => entry);
    expect(outside).toEqual(['electrodeExtension', 'preheatMeasured']);
    expect([...arcLimitNames, ...runLimitNames].filter((name) => monitoringOf(name) === 'beforeArc')).toEqual(['electrodeExtension']);
    expect([...arcLimitNames, ...runLimitNames].filter((name) => monitoringOf(name) === 'atArcStart')).toEqual(['preheat', 'interpassTemperature']);
    expect([...arcLimitNames, ...runLimitNames].filter((name) => monitoringOf(name) === 'notYet')).toEqual([]);
  });
});

describe('what changed between revisions', () => {
  const [first, second] = whole.runGroups ?? [];
  if (first === undefined || second === undefined) throw new Error('the procedure has two groups');

  it('is empty for the same procedure', () => {
    expect(differences(whole, structuredClone(whole))).toEqual([]);
  });

  it('is one sentence for each field, window, group and arc', () => {
    const after: ProcedureBody = {
      ...whole,
      title: 'revised',
      runGroups: [{ ...first, travelSpeed: { min: 450, max: 580 }, preheat: undefined, runs: [1, 2], arcs: [...(first.arcs ?? []), { arc: 2 }] }, second],
      alarm: { ...whole.alarm, onDelay: 0.5, windows: { voltage: { priority: 'low', response: 'check the contact tube', responses: { zh: '检查导电嘴' } } } },
    };
    expect(differences(whole, after).map((text) => text.replaceAll('\u00a0', ' '))).toEqual([
      'Title: “20 mm butt, two sides” → “revised”.',
      'Run group 1 “first side”, Runs: 1 → 1 to 2.',
      'Run group 1 “first side”, Travel speed: 450 mm/min to 560 mm/min → 450 mm/min to 580 mm/min.',
      'Run group 1 “first side”, Preheat temperature: min 15 °C → no limits.',
      'Run group 1 “first side”, Arc 2 added.',
      'On-delay: 1 s → 0.5 s.',
      'Voltage, priority: high → low.',
    ]);
    chooseLanguage('zh');
    expect(differences(whole, { ...whole, title: 'revised' })).toEqual(['名称：“20 mm butt, two sides” → “revised”。']);
  });

  it('names the default that applied before, or applies from now on', () => {
    const bare: ProcedureBody = { id: 'SA-12', alarm: {} };
    // README: on-delay 1 s and alarm priority medium where the procedure says nothing.
    expect(differences(bare, { ...bare, thermalEfficiency: 0.9, alarm: { onDelay: 2, windows: { voltage: { priority: 'low' } } } }).map((text) => text.replaceAll('\u00a0', ' '))).toEqual([
      'Thermal efficiency k: 1 (default) → 0.9.', 'On-delay: 1 s (default) → 2 s.', 'Voltage, priority: medium (default) → low.',
    ]);
    expect(differences({ ...bare, alarm: { deadband: 0.1 } }, bare).map((text) => text.replaceAll('\u00a0', ' '))).toEqual(['Deadband, share of limit width: 10 % → 5 % (default).']);
    expect(differences(bare, { ...bare, thickness: { min: 10 }, alarm: { windows: { voltage: { responses: { zh: '检查导电嘴。' } } } } }).map((text) => text.replaceAll('\u00a0', ' '))).toEqual([
      'Parent material thickness: no limits → min 10 mm.', 'Voltage, action in Chinese: – → “检查导电嘴。”.',
    ]);
  });

  it('recognises a group that was moved, and one that was removed', () => {
    expect(differences(whole, { ...whole, runGroups: [second, first] })).toEqual(['Run group 1 “second side” moved from position 2 to 1.', 'Run group 2 “first side” moved from position 1 to 2.']);
    expect(differences(whole, { ...whole, runGroups: [second] })).toEqual(['Run group 1 “first side” removed.', 'Run group 1 “second side” moved from position 2 to 1.']);
  });
});
