import { Ajv2020 } from 'ajv/dist/2020.js';
import { expect } from 'vitest';

interface Operation {
  readonly responses: Readonly<Record<string, { readonly content?: Readonly<Record<string, unknown>> }>>;
}

export interface Description {
  readonly openapi: string;
  readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
}

/** Asks the API and holds each answer against the description that the service itself hands out. */
export interface Asker {
  readonly description: Description;
  ask(method: string, path: string, init?: Omit<RequestInit, 'method'>): Promise<{ status: number; headers: Headers; text: string; body: unknown }>;
}

/** A JSON Schema validator from outside (Ajv, draft 2020-12, which OpenAPI 3.1 takes over) is the judge. */
export async function askerOf(url: string): Promise<Asker> {
  const description = (await (await fetch(`${url}/api/openapi.json`)).json()) as Description;
  const ajv = new Ajv2020({ strict: false, allErrors: true });
  // RFC 3339 section 5.6.
  ajv.addFormat('date-time', /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)$/i);
  ajv.addSchema(description, 'api');

  return {
    description,
    async ask(method, path, init = {}) {
      // A connection of its own each time, as the service closes a connection after a body that was too large.
      const headers = new Headers(init.headers);
      headers.set('connection', 'close');
      const response = await fetch(url + path, { ...init, method, headers });
      const text = await response.text();
      const announced = operationOf(description, method, path);
      const answered = announced?.operation.responses[String(response.status)];
      if (announced !== undefined) expect(answered, `${method} ${path} answered ${response.status}, which is not announced: ${text}`).toBeDefined();
      const type = response.headers.get('content-type')?.split(';', 1)[0] ?? '';
      const kinds = Object.keys(answered?.content ?? {});
      const kind = kinds.find((own) => own.split(';', 1)[0] === type);
      if (kinds.length > 0) expect(kind, `${method} ${path} answered ${type}, announced: ${kinds.join()}`).toBeDefined();
      const body: unknown = type.endsWith('json') && text !== '' ? JSON.parse(text) : text;
      if (announced !== undefined && kind !== undefined) {
        const place = ['paths', announced.template, method.toLowerCase(), 'responses', String(response.status), 'content', kind, 'schema'];
        const check = ajv.compile({ $ref: `api#/${place.map((part) => encodeURIComponent(part.replaceAll('~', '~0').replaceAll('/', '~1'))).join('/')}` });
        expect(check(body) ? [] : check.errors, `${method} ${path}: ${text.slice(0, 500)}`).toEqual([]);
      }
      return { status: response.status, headers: response.headers, text, body };
    },
  };
}

function operationOf(description: Description, method: string, path: string): { template: string; operation: Operation } | undefined {
  // As a client sends it: `..` is gone by then (WHATWG URL Standard, path state).
  const asked = new URL(path, 'http://127.0.0.1').pathname;
  for (const [template, operations] of Object.entries(description.paths)) {
    const pattern = new RegExp(`^${template.replaceAll('.', '\\.').replaceAll(/\{\w+\}/g, '[^/]+')}$`);
    const operation = operations[method.toLowerCase()];
    if (operation !== undefined && pattern.test(asked)) return { template, operation };
  }
  return undefined;
}

export function json(value: unknown): { headers: Record<string, string>; body: string } {
  return { headers: { 'content-type': 'application/json' }, body: JSON.stringify(value) };
}
