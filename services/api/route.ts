import type { Request, Response } from 'express';
import { z } from 'zod';
import type { ProblemStatus } from './problem-error.js';
import type { Upload } from './read-body.js';

/** An answer: `body` is written as JSON, `text` is sent as it is (JSON already, or another type). */
export interface Answer {
  readonly status: number;
  readonly body?: unknown;
  readonly text?: string;
  readonly headers?: Readonly<Record<string, string>>;
  /** Media type, if it differs from that of the shape. */
  readonly type?: string;
}

interface AnswerShape {
  readonly description: string;
  /** null if the answer has no body. */
  readonly schema: z.ZodType | null;
  /** Media type; JSON by default. */
  readonly type?: string;
  /** Whether it can also be had as CSV, by `format=csv`. */
  readonly csv?: boolean;
}

/** An accepted body: JSON, which is read and checked, or text, which the route reads piece by piece as its `upload`. */
export interface BodyShape {
  readonly type: 'application/json' | 'text/csv';
  readonly schema: z.ZodType;
  /** Most bytes. */
  readonly limit: number;
  /** A request without a body is accepted too. */
  readonly optional?: true;
}

interface RouteFacts {
  readonly method: 'get' | 'post' | 'put' | 'delete';
  /** As in OpenAPI, with `{name}` for parameters. */
  readonly path: string;
  readonly group: string;
  readonly summary: string;
  readonly params: z.ZodObject;
  readonly query: z.ZodObject;
  readonly body: BodyShape | null;
  readonly answers: Readonly<Record<number, AnswerShape>>;
  /** Problem statuses in addition to those that every route can answer. */
  readonly problems: readonly ProblemStatus[];
  /** Whether answers are sent without being checked against their schema: lists of many rows, for which that would cost too much. */
  readonly unchecked?: boolean;
}

/** A route with its types erased: its input has passed its schemas. */
export interface Route extends RouteFacts {
  answer(input: { readonly params: unknown; readonly query: unknown; readonly body: unknown; readonly upload: Upload | null }): Promise<Answer>;
  /** Takes over the connection instead of answering. */
  readonly stream?: (request: Request, response: Response) => void;
}

interface RouteInput<P extends z.ZodObject, Q extends z.ZodObject, B> {
  readonly params: z.output<P>;
  readonly query: z.output<Q>;
  readonly body: B;
  readonly upload: Upload | null;
}

const nothing = z.strictObject({});

/** A route whose handler sees the types of its schemas. What is left out is empty: it takes no parameters, no query and no body, and has no further problems. */
export function route<P extends z.ZodObject = typeof nothing, Q extends z.ZodObject = typeof nothing, S extends z.ZodType = z.ZodUndefined>(
  facts: Omit<RouteFacts, 'params' | 'query' | 'body' | 'problems'> & {
    readonly params?: P;
    readonly query?: Q;
    readonly body?: BodyShape & { readonly schema: S };
    readonly problems?: RouteFacts['problems'];
  },
  handle: (input: RouteInput<P, Q, z.output<S>>) => Answer | Promise<Answer>,
): Route {
  return { params: nothing, query: nothing, body: null, problems: [], ...facts, answer: async (input) => await handle(input as RouteInput<P, Q, z.output<S>>) };
}

const longestJson = 1_048_576;

export function jsonBody<S extends z.ZodType>(schema: S): BodyShape & { readonly schema: S } {
  return { type: 'application/json', schema, limit: longestJson };
}

/** A body that may be left out; its schema is then given `undefined`. */
export function optionalBody<S extends z.ZodType>(schema: S): BodyShape & { readonly schema: z.ZodOptional<S> } {
  return { ...jsonBody(schema), schema: schema.optional(), optional: true };
}

/**
 * A page of JSON texts, as lists answer it; `more` holds counts beside it. A text that a damaged store no longer returns as JSON is left out and
 * counted as `unreadable`, so that one bad record does not take the others along.
 */
export function listAnswer(items: readonly string[], next: string | null, more: Readonly<Record<string, number>> = {}): Answer {
  const readable = items.filter(isJson);
  const counts = readable.length === items.length ? more : { ...more, unreadable: items.length - readable.length };
  const others = Object.entries(counts).map(([name, value]) => `,"${name}":${value}`);
  return { status: 200, text: `{"items":[${readable.join(',')}],"next":${JSON.stringify(next)}${others.join('')}}` };
}

function isJson(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}
