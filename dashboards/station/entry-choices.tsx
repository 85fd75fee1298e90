import type { JSX } from 'preact';
import { Mark } from '../shared/mark.js';

export interface Choice<T> {
  readonly value: T;
  readonly text: string;
  readonly more: string | null;
}

/** A few values to choose from, each one press. */
export function Choices<T extends string | number>({ name, choices, entered, onEnter }: {
  readonly name: string;
  readonly choices: readonly Choice<T>[];
  readonly entered: boolean | number | string | null;
  readonly onEnter: (value: T) => void;
}): JSX.Element {
  return (
    <div class="entry-presses" role="group" aria-label={name}>
      {choices.map(({ value, text, more }) => (
        <button
          key={value}
          type="button"
          class="entry-press"
          aria-pressed={value === entered}
          onClick={() => {
            // A second press confirms it: somebody has looked.
            onEnter(value);
          }}
        >
          <Mark name={value === entered ? 'full' : 'empty'} />
          <span>{text}</span>
          {more !== null && <small>{more}</small>}
        </button>
      ))}
    </div>
  );
}
