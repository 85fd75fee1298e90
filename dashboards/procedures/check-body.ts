import { procedureRequestSchema } from '../../shared/api-types/procedure.js';
import type { FieldProblem, Reason } from './field-problem.js';

type Issue = NonNullable<ReturnType<typeof procedureRequestSchema.safeParse>['error']>['issues'][number];

/** What the service would refuse, by the same schema. This is a module of its own, so that other pages need not load the schema. */
export function checkBody(body: unknown): FieldProblem[] {
  const checked = procedureRequestSchema.safeParse(body);
  if (checked.success) return [];
  return checked.error.issues.map((issue) => {
    const field = issue.path.map((part, at) => (typeof part === 'number' ? `[${part}]` : `${at === 0 ? '' : '.'}${String(part)}`)).join('');
    return { field, reason: reasonOf(issue, field) };
  });
}

function reasonOf(issue: Issue, field: string): Reason {
  switch (issue.code) {
    case 'too_small': return { is: issue.inclusive === false ? 'moreThan' : 'atLeast', limit: Number(issue.minimum) };
    case 'too_big':
      return { is: issue.origin === 'string' ? 'tooLong' : issue.origin === 'array' ? 'tooMany' : 'atMost', limit: Number(issue.maximum) };
    case 'invalid_type':
      // Text that is not a number never gets here (see draft-body.ts), so an expected number is missing.
      return { is: issue.expected === 'int' ? 'whole' : 'needed' };
    case 'invalid_format': return { is: 'idShape' };
    case 'custom':
      if (field.endsWith('.min')) return { is: 'minOverMax' };
      if (field.endsWith('.runs')) return { is: 'runsOrder' };
      if (field.endsWith('.arcs')) return { is: 'arcTwice' };
  }
  return { is: 'said', text: issue.message };
}
