import { formatNumber, formatPercent } from './format.js';

export interface Quantity {
  readonly label: string;
  readonly unit: string;
  readonly decimals: number;
}

/** How the pages name, measure and round what the API answers. */
export const quantities = {
  current: { label: 'Current', unit: 'A', decimals: 0 },
  voltage: { label: 'Voltage', unit: 'V', decimals: 1 },
  wireFeedSpeed: { label: 'Wire feed speed', unit: 'm/min', decimals: 2 },
  travelSpeed: { label: 'Travel speed', unit: 'mm/min', decimals: 0 },
  heatInput: { label: 'Heat input', unit: 'kJ/mm', decimals: 3 },
  arcEnergy: { label: 'Arc energy', unit: 'kJ/mm', decimals: 3 },
  energy: { label: 'Energy', unit: 'kJ', decimals: 1 },
  length: { label: 'Length', unit: 'mm', decimals: 1 },
  travelled: { label: 'Travelled', unit: 'mm', decimals: 1 },
  seamPosition: { label: 'Place on the seam', unit: 'mm', decimals: 1 },
  arcTime: { label: 'Arc time', unit: 's', decimals: 1 },
  duration: { label: 'Duration', unit: 's', decimals: 1 },
} as const satisfies Record<string, Quantity>;

export type QuantityName = keyof typeof quantities;

/** Value and unit as one text, for where no table gives the unit. */
export function withUnit(name: QuantityName, value: number | null | undefined): string {
  const { unit, decimals } = quantities[name];
  return `${formatNumber(value, decimals)}\u00a0${unit}`;
}

/** A variation (standard deviation over mean) in per cent. */
export function variationText(share: number | null): string {
  return share === null ? formatPercent(null) : `${formatPercent(share)}\u00a0%`;
}
