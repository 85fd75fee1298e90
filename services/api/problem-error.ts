import { STATUS_CODES } from 'node:http';
import type { Problem } from '../../shared/api-types/problem.js';

export type FieldError = NonNullable<Problem['errors']>[number];

export type ProblemStatus = 400 | 403 | 404 | 405 | 409 | 413 | 415 | 422 | 429 | 500 | 503;

/** An error that is sent as the answer. */
export interface ProblemError extends Error {
  readonly problemStatus: ProblemStatus;
  readonly fields: readonly FieldError[];
  readonly headers: Readonly<Record<string, string>>;
  /** Members of the answer beside those of every problem. */
  readonly more: Pick<Problem, 'run' | 'seam' | 'runNumber'>;
}

/** An error for a request that cannot be answered as asked; its sender reads `detail`. */
export function problemError(
  problemStatus: ProblemStatus,
  detail: string,
  more: { readonly fields?: readonly FieldError[]; readonly headers?: Readonly<Record<string, string>>; readonly more?: ProblemError['more'] } = {},
): ProblemError {
  return Object.assign(new Error(detail), { problemStatus, fields: more.fields ?? [], headers: more.headers ?? {}, more: more.more ?? {} });
}

export function isProblemError(error: unknown): error is ProblemError {
  return error instanceof Error && 'problemStatus' in error;
}

/** Problem details by RFC 9457; without a type of its own, the title is that of the status (section 4.2.1). */
export function problemOf(error: ProblemError, instance: string): Problem {
  return {
    type: 'about:blank', title: STATUS_CODES[error.problemStatus] ?? 'Error', status: error.problemStatus, detail: error.message, instance, ...error.more,
    ...(error.fields.length === 0 ? {} : { errors: [...error.fields] }),
  };
}
