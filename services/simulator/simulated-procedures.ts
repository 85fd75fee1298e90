/** What is to be done when a value leaves its window. Invented. */
const alarm = {
  windows: {
    voltage: { priority: 'high', response: 'Set the voltage back at the power source, then look at the contact tube and the flux height.' },
    current: { priority: 'high', response: 'Look at the wire feed and the electrode extension.' },
    travelSpeed: { priority: 'medium', response: 'Look at the track and the drive wheels.' },
    heatInput: { priority: 'medium', response: 'Bring current, voltage and speed back to their set values; mark the stretch for inspection.' },
    currentVariation: { priority: 'low', response: 'Look at the wire guide and at the work clamp.' },
    voltageVariation: { priority: 'low', response: 'Look at the wire guide and at the work clamp.' },
  },
} as const;

/** ±10 % current, ±7 % voltage, ±15 % speed, rounded inwards: shares that a code gives (AWS D1.1:2015 Table 4.5; speed from memory). */
const singleArc = {
  id: 'SIM-1',
  title: 'Invented for the simulator: single wire butt, two sides',
  process: '121',
  thermalEfficiency: 1,
  weldingPosition: 'PA',
  runGroups: [
    {
      name: 'both sides',
      runs: [1, 2],
      arcs: [
        {
          arc: 1,
          currentType: 'DC',
          polarity: 'EP',
          wireDiameter: 4,
          wires: 1,
          offset: 0,
          current: { min: 549, max: 671 },
          voltage: { min: 29.3, max: 33.7 },
          electrodeExtension: { min: 24, max: 40 },
          currentVariation: { max: 0.12 },
          voltageVariation: { max: 0.08 },
        },
      ],
      travelSpeed: { min: 442, max: 598 },
      heatInput: { min: 1.7, max: 2.8 },
      preheat: { min: 10 },
      interpassTemperature: { max: 250 },
    },
  ],
  alarm,
} as const;

const tandem = {
  id: 'SIM-2',
  title: 'Invented for the simulator: tandem butt, two sides',
  process: '121',
  thermalEfficiency: 1,
  weldingPosition: 'PA',
  runGroups: [
    {
      name: 'both sides',
      runs: [1, 2],
      arcs: [
        {
          arc: 1,
          currentType: 'DC',
          polarity: 'EP',
          wireDiameter: 4,
          wires: 1,
          offset: 0,
          current: { min: 648, max: 792 },
          voltage: { min: 28.9, max: 33.1 },
          electrodeExtension: { min: 24, max: 40 },
        },
        {
          arc: 2,
          currentType: 'AC',
          wireDiameter: 4,
          wires: 1,
          offset: 70,
          current: { min: 522, max: 638 },
          voltage: { min: 31.7, max: 36.3 },
          electrodeExtension: { min: 24, max: 40 },
        },
      ],
      travelSpeed: { min: 723, max: 977 },
      heatInput: { min: 2.2, max: 3.6 },
      preheat: { min: 10 },
      interpassTemperature: { max: 250 },
    },
  ],
  alarm,
} as const;

/** The procedures that simulated assignments name, in the form in which a procedure is posted. Invented, never qualified. */
export const simulatedProcedures = [singleArc, tandem] as const;
