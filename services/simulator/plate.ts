/** Heat capacity of steel, kJ/(kg·K), and density, kg/mm³. */
const heatCapacity = 0.49;
const density = 7.85e-6;
/** Width of plate that takes part in the warming, mm, and s in which the plate loses 63 % of its excess; common practice, no source. */
const warmedWidth = 500;
const coolingTime = 900;

export interface Plate {
  readonly length: number;
  readonly thickness: number;
  /** Temperature of the hall, °C. */
  readonly ambient: number;
}

/** Temperature of the plate, °C, after `seconds` with `power` kW from the arcs: one lump that cools towards the hall. */
export function plateTemperatureAfter(plate: Plate, temperature: number, power: number, seconds: number): number {
  const capacity = plate.length * warmedWidth * plate.thickness * density * heatCapacity;
  const settled = plate.ambient + (power * coolingTime) / capacity;
  return settled + (temperature - settled) * Math.exp(-seconds / coolingTime);
}
