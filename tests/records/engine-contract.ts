import { describe, expect, it } from 'vitest';
import type { ChangeSet } from '../../shared/records/change-set.js';

/** An engine over an empty store of its own. */
export interface OpenEngine {
  /** One commit. What fails throws. */
  apply(changes: ChangeSet): void;
  /** A digest of all rows of each table that holds any, in order. */
  digests(): Readonly<Record<string, string>>;
  /** The statement with that number from now on fails, once; `Infinity` for none. */
  failAt(statement: number): void;
  /** Statements that were carried out so far. */
  statements(): number;
  dispose(): void;
}

export interface RecordedChanges {
  readonly changes: readonly ChangeSet[];
  readonly digests: Readonly<Record<string, string>>;
}

/** What an engine has to do with change sets: `recorded` are those of some welding, with the digests of the store that they made. */
export function engineContract(name: string, open: () => OpenEngine, recorded: () => RecordedChanges): void {
  describe(`${name} carries out what commits change`, () => {
    const using = (work: (engine: OpenEngine) => void): void => {
      const engine = open();
      try {
        work(engine);
      } finally {
        engine.dispose();
      }
    };

    it('has change sets of every kind to carry out', () => {
      const { changes } = recorded();
      const without = Object.keys(changes[0] ?? {}).filter((list) => changes.every((own) => {
        const value = own[list as keyof ChangeSet];
        return value === null || (Array.isArray(value) && value.length === 0);
      }));
      expect(without).toEqual([]);
    });

    it('makes the same tables out of the same change sets, which survive being cloned', () => {
      const { changes, digests } = recorded();
      using((engine) => {
        for (const own of changes) {
          const cloned = structuredClone(own);
          expect(cloned).toEqual(own);
          engine.apply(cloned);
        }
        expect(engine.digests()).toEqual(digests);
      });
    });

    it('leaves nothing behind where a statement fails, whichever, and takes the same change set afterwards', () => {
      const { changes, digests } = recorded();
      using((engine) => {
        for (const own of changes) {
          const before = engine.digests();
          const begun = engine.statements();
          // How many statements there are is seen where all of them succeed; the same ones come again after each failure.
          for (let at = 0; ; at += 1) {
            engine.failAt(at);
            try {
              engine.apply(own);
              break;
            } catch (thrown) {
              expect((thrown as Error).message).toBe('made to fail');
            }
            expect(engine.digests(), `statement ${at}`).toEqual(before);
          }
          engine.failAt(Infinity);
          expect(engine.statements()).toBeGreaterThan(begun);
        }
        expect(engine.digests()).toEqual(digests);
      });
    });
  });
}
