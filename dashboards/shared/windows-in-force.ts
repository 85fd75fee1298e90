import type { Carriage } from '../../shared/api-types/carriage.js';

/** Ranges in force, by arc and for the carriage. */
export type WindowsInForce = NonNullable<Carriage['windows']>;

/** The lowest and highest value that is allowed, in the API's unit; either end may be absent. */
export type Window = NonNullable<WindowsInForce['travelSpeed']>;
