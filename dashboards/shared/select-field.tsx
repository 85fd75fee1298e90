import type { ComponentChildren, JSX } from 'preact';

/** A value and the text that people read for it. */
export type SelectChoice = readonly [value: string, text: string];

interface SelectFieldParts {
  readonly label: ComponentChildren;
  readonly value: string;
  readonly choices: readonly SelectChoice[];
  readonly name?: string;
  readonly look?: string;
  readonly onChoose?: (value: string) => void;
}

/** A labelled list from which one value is chosen. */
export function SelectField({ label, value, choices, name, look, onChoose }: SelectFieldParts): JSX.Element {
  return (
    <label class={look}>
      {label}
      <select name={name} value={value} onChange={onChoose && ((event) => { onChoose(event.currentTarget.value); })}>
        <Options choices={choices} />
      </select>
    </label>
  );
}

export function Options({ choices }: { readonly choices: readonly SelectChoice[] }): JSX.Element {
  return <>{choices.map(([value, text]) => <option key={value} value={value}>{text}</option>)}</>;
}
