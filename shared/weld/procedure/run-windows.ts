import type { JudgedArcName, JudgedRunName } from '../quantities.js';

/** The lowest and highest value that a procedure allows; either end may be absent. */
export interface Window {
  readonly min?: number | undefined;
  readonly max?: number | undefined;
}

/** The windows of one run group for the temperature of the plate before the arc is lit, °C. */
export interface TemperatureWindows {
  readonly preheat?: Window | undefined;
  readonly interpassTemperature?: Window | undefined;
}

/** The windows of one run group that are judged along a run, and the settings for judging. Times µs, lengths mm. */
export interface RunWindows {
  readonly arcs: Readonly<Record<number, Readonly<Partial<Record<JudgedArcName, Window>>>>>;
  readonly run: Readonly<Partial<Record<JudgedRunName, Window>>>;
  /** A judged value is the mean over this time, centred. */
  readonly smoothing: number;
  /** How long values must stay outside before there is an excursion, and inside the deadband before it is over. */
  readonly onDelay: number;
  readonly offDelay: number;
  /** Share of the window's width. */
  readonly deadband: number;
  /** Length over which heat input along the seam is computed. */
  readonly heatInputLength: number;
  /** The sign that the current of a direct-current arc must have: 1 electrode positive, -1 negative. */
  readonly polarity?: Readonly<Record<number, 1 | -1>>;
  /** The procedure's settings for the alarm of a quantity. */
  readonly alarms?: Readonly<Record<string, WindowAlarm | undefined>>;
}

export interface WindowAlarm {
  readonly priority?: 'high' | 'medium' | 'low' | undefined;
  readonly response?: string | undefined;
  /** The response in other languages. */
  readonly responses?: ActionTexts | undefined;
}

/** Texts by language tag. */
export interface ActionTexts {
  readonly en?: string | undefined;
  readonly zh?: string | undefined;
}

/** Defaults where the procedure says nothing; common practice, no source. */
export const judgingDefaults = { smoothing: 1, onDelay: 1, offDelay: 3, deadband: 0.05, heatInputLength: 50 } as const;

/** Where a window has only one end, the deadband is this share of the limit. */
const openDeadband = 0.01;

/** How far inside its limits a value must come for an excursion to end. */
export function deadbandOf(window: Window, share: number): number {
  const { min, max } = window;
  if (min !== undefined && max !== undefined) return (max - min) * share;
  return Math.abs(min ?? max ?? 0) * openDeadband;
}

/** The limit that a value has crossed, or null if it is inside. */
export function crossedLimit(window: Window, value: number): number | null {
  if (window.max !== undefined && value > window.max) return window.max;
  if (window.min !== undefined && value < window.min) return window.min;
  return null;
}
