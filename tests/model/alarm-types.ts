import type { ArcWindowName, PlainWindow, WindowProcedure, WireFields } from './window-types.js';

type RunGroup = WindowProcedure['runGroups'][number];

/** A procedure as it is posted, with everything that alarms need besides windows. */
export interface AlarmProcedure extends Omit<WindowProcedure, 'runGroups'> {
  readonly runGroups: readonly (Omit<RunGroup, 'arcs'> & {
    readonly arcs?: readonly ({
      readonly arc: number;
      readonly offset?: number;
      readonly currentType?: 'DC' | 'AC';
      readonly polarity?: 'EP' | 'EN';
    } & WireFields & { readonly [Name in ArcWindowName]?: PlainWindow })[];
  })[];
}

/** A moment of a run: µs since 1970 and travel in mm. */
export interface PlainMoment {
  readonly time: number;
  readonly travelled: number;
}

/** One alarm of a run at some moment, as far as the weld determines it, without the actions of people and silence. */
export interface PlainAlarm {
  readonly arc: number | null;
  readonly quantity: string;
  readonly limit: number;
  readonly worst: number;
  readonly since: PlainMoment;
  /** End of the row at which the on-delay was over. */
  readonly raisedAt: number;
  /** Null while it lasts. */
  readonly returnedAt: number | null;
  /** Its excursion does not exist; the other fields keep their last values. */
  readonly withdrawn: boolean;
  /** Only for heat input: its cause has an alarm already. */
  readonly suppressed: boolean;
}
