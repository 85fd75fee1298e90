import { useEffect, useRef, useState } from 'preact/hooks';
import type { Procedure, ProcedureBody } from '../../shared/api-types/procedure.js';
import { fetchRevision } from '../shared/api.js';
import { differences } from './differences.js';
import { bodyOf, type Json } from './draft-body.js';
import { copyOf, draftOf, emptyDraft, type Draft } from './draft.js';
import { inputFor, type FieldProblem, type Reason } from './field-problem.js';
import { draftName, dropDraft, keepDraft, readDraft } from './kept-draft.js';
import { saveProcedure } from './procedure-api.js';

/** How the last try to save ended, other than well. */
export type Outcome =
  | { readonly is: 'wrong' | 'exists' | 'meanwhile' | 'same' | 'unreached' }
  | { readonly is: 'refused'; readonly status: number; readonly detail: string };

interface EditorState {
  readonly draft: Draft;
  /** The newest revision, which the next one is compared with; null for a new procedure. */
  readonly base: Procedure | null;
  readonly wrong: ReadonlyMap<string, readonly Reason[]>;
  /** Problems of fields that the form does not have. */
  readonly elsewhere: readonly FieldProblem[];
  readonly outcome: Outcome | null;
  readonly busy: boolean;
  /** The revision on which restored entries are based; undefined if nothing was restored. */
  readonly restored: number | null | undefined;
  /** The draft that was discarded last and can be brought back. */
  readonly discarded: Draft | null;
  /** Counts up when the first wrong field is to be focused. */
  readonly focusTurn: number;
}

export interface Editor extends EditorState {
  readonly change: (change: (draft: Draft) => Draft, touched: string | null) => void;
  readonly discard: () => void;
  readonly undoDiscard: () => void;
  /** `inputs` are the paths of all inputs, in the order in which the form shows them. */
  readonly save: (inputs: readonly string[]) => Promise<void>;
}

const none: ReadonlyMap<string, readonly Reason[]> = new Map();

/** The state of a procedure's form, and saving it as the revision after `newest` or as a new procedure, which may begin as a copy. */
export function useEditor(newest: Procedure | null, copied: Procedure | null, onSaved: (stored: Procedure) => void): Editor {
  const id = newest?.id ?? null;
  const name = draftName(newest, copied);
  const [state, setState] = useState<EditorState>(() => startOf(newest, copied));
  const live = useRef(state);
  live.current = state;
  const set = (part: Partial<EditorState>): void => {
    live.current = { ...live.current, ...part };
    setState(live.current);
  };
  useEffect(() => {
    // Loaded early, so that fields can be checked even if the service is away by then.
    void import('./check-body.js').catch(() => undefined);
  }, []);

  const tell = (problems: readonly FieldProblem[], inputs: readonly string[], outcome: Outcome): void => {
    const wrong = new Map<string, Reason[]>();
    const elsewhere: FieldProblem[] = [];
    for (const problem of problems) {
      const at = inputFor(problem.field, inputs);
      if (at === undefined) elsewhere.push(problem);
      else wrong.set(at, [...(wrong.get(at) ?? []), problem.reason]);
    }
    const inOrder = new Map([...wrong].sort(([one], [other]) => inputs.indexOf(one) - inputs.indexOf(other)));
    set({ wrong: inOrder, elsewhere, outcome, busy: false, focusTurn: live.current.focusTurn + (wrong.size > 0 ? 1 : 0) });
  };

  const save = async (inputs: readonly string[]): Promise<void> => {
    if (live.current.busy) return;
    set({ busy: true, outcome: null });
    const { body, problems } = await checked(live.current.draft);
    if (problems.length > 0) {
      tell(problems, inputs, { is: 'wrong' });
      return;
    }
    const { base } = live.current;
    if (base !== null && id !== null) {
      const now = await fetchRevision(id, null, new AbortController().signal);
      if (now.ok && now.value.revision !== base.revision) {
        set({ base: now.value, outcome: { is: 'meanwhile' }, wrong: none, elsewhere: [], busy: false });
        return;
      }
      if (differences(base, body as unknown as ProcedureBody).length === 0) {
        set({ outcome: { is: 'same' }, wrong: none, elsewhere: [], busy: false });
        return;
      }
    }
    const saved = await saveProcedure(id, body);
    if (saved.is === 'saved') {
      dropDraft(name);
      onSaved(saved.procedure);
    } else if (saved.is === 'unreached') set({ outcome: { is: 'unreached' }, wrong: none, elsewhere: [], busy: false });
    else {
      const { status, detail, errors = [] } = saved.problem;
      if (status === 409 && id === null) tell([{ field: 'id', reason: { is: 'taken' } }], inputs, { is: 'exists' });
      else tell(errors.map(({ field, reason }) => ({ field, reason: { is: 'said', text: reason } })), inputs, errors.length > 0 ? { is: 'wrong' } : { is: 'refused', status, detail });
    }
  };

  return {
    ...state,
    change: (change, touched) => {
      const draft = change(live.current.draft);
      set({ draft, discarded: null, wrong: touched === null ? none : without(live.current.wrong, touched) });
      keepDraft(name, { base: live.current.base?.revision ?? null, draft });
    },
    discard: () => {
      const discarded = live.current.draft;
      dropDraft(name);
      set({ ...startOf(live.current.base, copied), discarded });
    },
    undoDiscard: () => {
      const draft = live.current.discarded;
      if (draft === null) return;
      keepDraft(name, { base: live.current.base?.revision ?? null, draft });
      set({ draft, discarded: null, wrong: none });
    },
    save,
  };
}

function startOf(newest: Procedure | null, copied: Procedure | null): EditorState {
  const kept = readDraft(draftName(newest, copied));
  const fresh = newest !== null ? draftOf(newest) : copied === null ? emptyDraft() : copyOf(copied);
  return { draft: kept?.draft ?? fresh, base: newest, wrong: none, elsewhere: [], outcome: null, busy: false, restored: kept === null ? undefined : kept.base, discarded: null, focusTurn: 0 };
}

/** The draft as a body, and what is wrong with it. If the schema cannot be loaded, only the service checks. */
async function checked(draft: Draft): Promise<{ readonly body: Json; readonly problems: readonly FieldProblem[] }> {
  const { body, wrong } = bodyOf(draft);
  const check = await import('./check-body.js').then((loaded) => loaded.checkBody, () => () => []);
  const told = new Set(wrong.map(({ field }) => field));
  // The service accepts an unsigned revision; the form asks for the name.
  if (body['by'] === undefined) wrong.push({ field: 'by', reason: { is: 'needed' } });
  return { body, problems: [...wrong, ...check(body).filter(({ field }) => !told.has(field))] };
}

/** Removes the problems of a field when the field, or the other end of its window, is edited. */
function without(wrong: ReadonlyMap<string, readonly Reason[]>, touched: string): ReadonlyMap<string, readonly Reason[]> {
  const stem = touched.replace(/(\.(min|max)|\[[01]\])$/, '');
  const left = [...wrong].filter(([path]) => path !== touched && path !== `${stem}.min` && path !== `${stem}.max` && path !== `${stem}[0]` && path !== `${stem}[1]`);
  return left.length === wrong.size ? wrong : new Map(left);
}
