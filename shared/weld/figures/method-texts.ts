/**
 * How figures are computed, in words. Pages that speak another language have a text of their own for each code. E energy, L length, U voltage, I current,
 * Δt the time that a value holds.
 */
export const methodTexts = {
  heatInput: 'arc energy × thermal efficiency k',
  arcEnergy: 'energy over length of each arc, added over the arcs, so that arcs that start and stop at different places come out right; not given for less than 20 mm, nor where an arc was on without travel',
  thermalEfficiency: 'k, a field of the procedure; 1.0, as for submerged arc, where the procedure gives none or there is none',
  energyOfArcs: 'energies of the arcs, added',
  energyOfArc: 'Σ U · I · Δt over the samples while the arc is on, data gaps left out',
  arcTime: 'time in which any arc was on with data, data gaps left out',
  arcTimeOfArc: 'time in which this arc was on with data, data gaps left out',
  duration: 'from the first arc start to the last moment an arc was on, restarts and data gaps included',
  length: 'Σ |travel| while any arc was on, data gaps included; inside, outside, not proven and excluded add up to it',
  lengthOfArc: 'Σ |travel| while this arc was on, data gaps left out',
  inside: 'length of the weld zone in which every judged value was within its limits, or no limits applied',
  outside: 'length in which any judged value was out of its limits; delays do not count',
  notProven: 'length in data gaps, and where a quantity with limits was not sent',
  excluded: 'length that is not weld: arc start, after a restart, crater, tabs, overlap',
  travelled: 'place at the end less place at the start; reverse travel is subtracted',
  place: 'travel from the start to this moment; reverse travel is subtracted',
  degrees: 'share of a full turn at the diameter of the job; not taken modulo 360',
  turns: 'degrees over 360, not rounded',
  workDiameter: 'as declared with the job, at the surface for which speed and length hold',
  circumferenceOverlap: 'length beyond a full turn',
  restartOverlap: 'place at which the arc stopped less place at which it was re-struck; negative where length was left unwelded',
  mean: 'Σ x · Δt ⁄ Σ Δt over the samples while the arc is on; of an alternating arc, the RMS of each 100 ms counts',
  meanSent: 'Σ x · Δt ⁄ Σ Δt while the arc is on, over the time for which it was sent',
  meanSpeed: 'Σ v · Δt ⁄ Σ Δt while any arc is on',
  least: 'lowest value while the arc is on; of an alternating arc, lowest RMS of 100 ms',
  greatest: 'highest value while the arc is on; of an alternating arc, highest RMS of 100 ms',
  leastSent: 'lowest value while the arc is on',
  greatestSent: 'highest value while the arc is on',
  leastSpeed: 'lowest value while any arc is on',
  greatestSpeed: 'highest value while any arc is on',
  deviation: '√(Σ x² · Δt ⁄ Σ Δt − mean²) of the population, while the arc is on',
  deviationOfSpeed: '√(Σ v² · Δt ⁄ Σ Δt − mean²) of the population, while any arc is on',
  rms: '√(Σ x² · Δt ⁄ Σ Δt) over the samples while the arc is on',
  variation: 'standard deviation over mean; not given where the mean is 0',
  samples: 'samples received while the arc was on, the last one with no time included',
  extinctions: 'losses of at least 10 ms below 20 A, counted; only blocks at 5 ms or less can show them',
  shortCircuits: 'stretches of at least 2 ms below 12 V, counted; only blocks at 1 ms or less can show them',
  excursions: 'stretches in which a judged value was outside a limit for longer than the on-delay, counted',
  weldHeatInput: 'k × energy over length of each arc within the weld zone, added over the arcs',
  weldLength: 'length in which every arc that was on was in the weld zone',
  weldArcTime: 'arc time in the weld zone',
  weldEnergy: 'Σ U · I · Δt over the samples in the weld zone, added over the arcs',
  weldMean: 'Σ |x| · Δt ⁄ Σ Δt over the samples in the weld zone; of an alternating arc, the RMS of each 100 ms counts',
  weldMeanSent: 'Σ x · Δt ⁄ Σ Δt in the weld zone',
  t85: 'cooling time from 800 to 500 °C: three-dimensional heat flow where the plate is thicker than the transition thickness, else two-dimensional; for unalloyed and low-alloy steel',
  transitionThickness: 'thickness at which two- and three-dimensional heat flow give the same time',
  asDeclared: 'as declared with the job',
  plateTemperature: 'the temperature that counts before the arc start, measured; declared only where nothing was measured',
  shapeFactor: 'a field of the run group; 1 (bead on plate) where it gives none',
  weldZoneHeatInput: 'heat input of the weld zone',
  wireLength: 'Σ feed · Δt while the arc is on, added over the arcs, data gaps left out; not multiplied by the number of wires',
  wireMass: 'wire length × cross-section × 7850 kg/m³, the density of unalloyed steel, × wires, added over the arcs',
  weldMetal: 'melted wire × recovery, added over the arcs',
  depositionRate: 'weld metal over arc time',
  massPerLength: 'weld metal of each arc over its own length, added over the arcs',
  fluxMass: 'weld metal × flux ratio',
  electricity: 'arc energy in kWh: at the arc, not from the mains',
  duty: 'arc time over duration',
  currentDensity: 'mean current over the cross-section of the wires; RMS current of an alternating arc',
  extension: 'declared electrode extension',
  extensionRatio: 'declared electrode extension over wire diameter; 6 to 10 is usual',
  extensionDrift: 'an estimate: the extension at which the melting rate of the last 100 mm of weld zone equals the wire fed there, scaled to the declared extension over the first 100 mm, less the declared one',
  endMean: 'Σ x · Δt ⁄ Σ Δt over the first or the last 100 mm of weld zone',
  meltingFactor: 'melted mass rate of the feed over that of the melting-rate equation at the declared extension, both over the first 100 mm of weld zone',
  balance: 'share of the arc time with current above 0',
  currentOffset: 'Σ I · Δt ⁄ Σ Δt of the signed current while the arc is on',
  powerFactor: 'energy of the arc over RMS voltage × RMS current × arc time',
  ripple: '√(Σ (I − m)² · Δt ⁄ Σ Δt) over mean current, m the mean of the sample’s 100 ms; what is faster than the samples is not seen',
  rawMean: 'mean of the voltage as it was sent, before the drop in the welding cable was taken off',
  rawLeast: 'lowest voltage as it was sent, before the drop in the welding cable was taken off',
  rawGreatest: 'highest voltage as it was sent, before the drop in the welding cable was taken off',
  rawDeviation: 'standard deviation of the voltage as it was sent, before the drop in the welding cable was taken off',
  rawRms: 'RMS of the voltage as it was sent, before the drop in the welding cable was taken off',
} as const;

export type MethodCode = keyof typeof methodTexts;

/** How the samples of a run were averaged, for the figures that are sums over them. */
export const averagingTexts = {
  instantaneous: 'All samples come from blocks of at most 1 ms: instantaneous values',
  average: 'Some samples are readings or come from blocks slower than 1 ms: average values, right for a steady DC arc only',
} as const;

/** For figures made with travel that was declared by its source. */
export const declaredTravelText = 'Travel is declared, not measured';

/** The methods that depend on how the samples were averaged. */
const averaged: readonly MethodCode[] = [
  'heatInput', 'arcEnergy', 'energyOfArcs', 'energyOfArc', 'mean', 'least', 'greatest', 'deviation', 'rms', 'variation', 'weldHeatInput', 'weldEnergy', 'weldMean',
  't85', 'weldZoneHeatInput', 'electricity', 'currentDensity', 'powerFactor', 'rawMean', 'rawLeast', 'rawGreatest',
  'rawDeviation', 'rawRms',
];

/** The methods in which travel counts. */
const travelling: readonly MethodCode[] = [
  'heatInput', 'arcEnergy', 'length', 'lengthOfArc', 'inside', 'outside', 'notProven', 'excluded', 'travelled', 'place', 'degrees', 'turns', 'circumferenceOverlap', 'restartOverlap', 'meanSpeed',
  'leastSpeed', 'greatestSpeed', 'deviationOfSpeed', 'weldHeatInput', 'weldLength', 't85', 'weldZoneHeatInput', 'transitionThickness', 'massPerLength',
];

/** Which sentences follow the text of a method in a run. */
export function methodNotes(code: MethodCode, run: { readonly method: keyof typeof averagingTexts; readonly travel?: unknown }): { readonly averaging: keyof typeof averagingTexts | null; readonly declaredTravel: boolean } {
  return { averaging: averaged.includes(code) ? run.method : null, declaredTravel: run.travel === 'declared' && travelling.includes(code) };
}
