import type { ArcWindowName, PlainWindow, WindowProcedure } from './window-types.js';

type RunGroup = WindowProcedure['runGroups'][number];

/** A procedure as it is posted, with what alarms need beyond windows. */
export interface AlarmProcedure extends Omit<WindowProcedure, 'runGroups'> {
  readonly runGroups: readonly (Omit<RunGroup, 'arcs'> & {
    readonly arcs?: readonly ({
      readonly arc: number;
      readonly offset?: number;
      readonly currentType?: 'DC' | 'AC';
      readonly polarity?: 'EP' | 'EN';
    } & { readonly [Name in ArcWindowName]?: PlainWindow })[];
  })[];
}

/** A moment of a run: µs since 1970 and mm travelled. */
export interface PlainMoment {
  readonly time: number;
  readonly travelled: number;
}

/** One alarm of a run at some moment, as far as the welding decides it: people's part and silence come on top. */
export interface PlainAlarm {
  readonly arc: number | null;
  readonly quantity: string;
  readonly limit: number;
  readonly worst: number;
  readonly since: PlainMoment;
  /** End of the row with which the on-delay was over. */
  readonly raisedAt: number;
  /** Null while it lasts. */
  readonly returnedAt: number | null;
  /** Its excursion is not there: the rest is what it said last. */
  readonly withdrawn: boolean;
  /** Heat input alone: its cause is alarmed already. */
  readonly suppressed: boolean;
}
