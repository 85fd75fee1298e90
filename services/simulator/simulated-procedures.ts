/** What the operator is to do when a value leaves its limits. Invented. */
const alarm = {
  windows: {
    voltage: {
      priority: 'high',
      response: 'Reset the voltage at the power source, then check the contact tip and the flux depth.',
      responses: { zh: '在焊接电源上调回电压，然后检查导电嘴和焊剂堆高。' },
    },
    current: { priority: 'high', response: 'Check the wire feed and the electrode extension.', responses: { zh: '检查送丝和焊丝干伸长。' } },
    travelSpeed: { priority: 'medium', response: 'Check the track and the drive wheels.', responses: { zh: '检查轨道和行走轮。' } },
    heatInput: {
      priority: 'medium',
      response: 'Reset current, voltage and travel speed; mark this stretch for inspection.',
      responses: { zh: '将电流、电压和焊接速度调回设定值；标记该段以便检验。' },
    },
    currentVariation: { priority: 'low', response: 'Check the wire guide and the work clamp.', responses: { zh: '检查导丝管和地线夹。' } },
    voltageVariation: { priority: 'low', response: 'Check the wire guide and the work clamp.', responses: { zh: '检查导丝管和地线夹。' } },
  },
} as const;

/** What they have in common, with the run group's own arcs and ranges in it. */
function procedure<const Id extends string, const Group extends object>(id: Id, weld: string, name: string, group: Group) {
  return {
    id, title: `Simulator example: ${weld}`, process: '121', thermalEfficiency: 1, weldingPosition: 'PA',
    runGroups: [{ name, runs: [1, 2], ...group, preheat: { min: 10 }, interpassTemperature: { max: 250 } }],
    alarm,
  } as const;
}

const wire = { wireDiameter: 4, wires: 1, electrodeExtension: { min: 24, max: 40 } } as const;

const singleArc = { arc: 1, currentType: 'DC', polarity: 'EP', offset: 0, ...wire, current: { min: 549, max: 671 }, voltage: { min: 29.3, max: 33.7 } } as const;
const singleMotion = { travelSpeed: { min: 442, max: 598 }, heatInput: { min: 1.7, max: 2.8 } } as const;

/**
 * The procedures that simulated assignments name, in the form in which a procedure is posted. Invented, never qualified. ±10 % current, ±7 % voltage,
 * ±15 % speed, rounded inwards: shares that a code gives (AWS D1.1:2015 Table 4.5; speed from memory).
 */
export const simulatedProcedures = [
  procedure('SIM-1', 'single-wire butt weld, two sides', 'both sides', {
    arcs: [{ ...singleArc, currentVariation: { max: 0.12 }, voltageVariation: { max: 0.08 } }], ...singleMotion,
  }),
  procedure('SIM-2', 'tandem butt weld, two sides', 'both sides', {
    arcs: [
      { arc: 1, currentType: 'DC', polarity: 'EP', offset: 0, ...wire, current: { min: 648, max: 792 }, voltage: { min: 28.9, max: 33.1 } },
      { arc: 2, currentType: 'AC', offset: 70, ...wire, current: { min: 522, max: 638 }, voltage: { min: 31.7, max: 36.3 } },
    ],
    travelSpeed: { min: 723, max: 977 }, heatInput: { min: 2.2, max: 3.6 },
  }),
  // Without limits for the variations: they look back 10 s, and a ring has no tab on which the arc start could be over by then.
  procedure('SIM-3', 'single-wire circumferential weld of a shell ring', 'outside', { arcs: [singleArc], ...singleMotion }),
] as const;
