/*
 * D. Rosenthal's temperature field of a moving source of heat (The theory of moving sources of heat and its application to metal treatments, Transactions
 * ASME 68, 1946), not by its closed form but by adding up the heat that was left along the way: each instant's heat spreads by the fundamental
 * solution of the heat equation (Carslaw and Jaeger, Conduction of Heat in Solids, 10.2 and 10.3). Units SI.
 */

/** λ in W/(m·K), and ρ·c in J/(m³·K). */
export interface Metal {
  readonly conductivity: number;
  readonly capacity: number;
}

interface Weld {
  /** J/m. */
  readonly heatInput: number;
  /** m/s. */
  readonly speed: number;
  /** °C. */
  readonly start: number;
  readonly metal: Metal;
  /** m; null for a thick plate, whose far side is never reached. */
  readonly thickness: number | null;
}

/**
 * The temperature, °C, of a point on the weld's axis, `time` s after the source passed it: ∫ of what was left s seconds ago at speed·(time − s) from
 * here, by the trapezium rule over ln s, in which the integrand and all its derivatives fall to 0 at both ends.
 */
export function temperatureOnAxis({ heatInput, speed, start, metal, thickness }: Weld, time: number): number {
  const diffusivity = metal.conductivity / metal.capacity;
  const power = heatInput * speed;
  const dimensions = thickness === null ? 3 : 2;
  // Heat goes into half a body below a thick plate's surface, and into the whole thickness of a thin one.
  const density = thickness === null ? (2 * power) / metal.capacity : power / (thickness * metal.capacity);
  // The logarithm's width of the peak about s = time, and what is left of the integrand at 9 times that.
  const width = Math.sqrt(2 * diffusivity * time) / (speed * time);
  const reach = 9 * Math.max(width, width * width);
  const steps = 4_000;
  let sum = 0;
  for (let k = -steps; k <= steps; k += 1) {
    const ago = time * Math.exp((k / steps) * reach);
    const distance = speed * (time - ago);
    sum += (ago / (4 * Math.PI * diffusivity * ago) ** (dimensions / 2)) * Math.exp(-(distance * distance) / (4 * diffusivity * ago));
  }
  return start + density * sum * (reach / steps);
}

/** When the point has cooled to `temperature`, s after the source passed it: the temperature only falls, so the interval is halved until it is a point. */
function cooledTo(weld: Weld, temperature: number): number {
  let [low, high] = [1e-3, 1e4];
  for (let step = 0; step < 60; step += 1) {
    const middle = Math.sqrt(low * high);
    if (temperatureOnAxis(weld, middle) > temperature) low = middle;
    else high = middle;
  }
  return Math.sqrt(low * high);
}

/** The time from 800 to 500 °C, s. */
export function integratedCoolingTime(weld: Weld): number {
  return cooledTo(weld, 500) - cooledTo(weld, 800);
}
