import type { JSX } from 'preact';
import { useSignal } from '@preact/signals';
import { useLayoutEffect, useRef } from 'preact/hooks';
import { handleSubmit } from '../shared/form-parts.js';
import './keypad.css';
import { stationWords } from './station-words.js';

/** Ten keys at a time: as many as have the size of a gloved finger without dragging. */
const lotLayers = ['1234567890', 'ABCDEFGHIJ', 'KLMNOPQRST', 'UVWXYZ-/. '] as const;
const numberLayers = ['1234567890'] as const;
const layerNames = ['0–9', 'A–J', 'K–T', 'U–Z - /'] as const;

/**
 * Keys for a lot or a number, large enough for gloves, shown in place of the field. A scanner or a keyboard can also type, and ends with Enter.
 * `done` gets the text, trimmed.
 */
export function Keypad({ kind, label, start, done }: { readonly kind: 'lot' | 'number'; readonly label: string; readonly start: string; readonly done: (text: string) => void }): JSX.Element {
  const say = stationWords();
  const text = useSignal(start);
  const layer = useSignal(0);
  const field = useRef<HTMLInputElement>(null);
  useLayoutEffect(() => { field.current?.focus(); }, []);
  const layers: readonly string[] = kind === 'lot' ? lotLayers : numberLayers;
  const at = (by: number): number => (layer.value + by + layers.length) % layers.length;
  const key = (shown: string, name: string, press: () => void, look = 'push keypad-key'): JSX.Element => (
    // Focus stays in the field, where a scanner types.
    <button key={name} type="button" class={look} aria-label={name} onMouseDown={(event) => { event.preventDefault(); }} onClick={press}>
      {shown}
    </button>
  );
  const turn = (by: number): JSX.Element => {
    const name = layerNames[at(by)] ?? '';
    return key(by < 0 ? `◂ ${name}` : `${name} ▸`, say.keysOf(name, by < 0), () => { layer.value = at(by); }, 'push keypad-turn');
  };
  return (
    <form class="keypad" aria-label={label} onSubmit={handleSubmit(() => { done(text.value.trim()); })}>
      <label>
        {label}
        <input ref={field} type="text" inputMode="none" autocomplete="off" maxLength={128} value={text.value} onInput={(event) => { text.value = event.currentTarget.value; }} />
      </label>
      <div class="keypad-keys">
        {Array.from(layers[layer.value] ?? '').map((own) => key(own === ' ' ? '␣' : own, own === ' ' ? say.space : own, () => { text.value += own; }))}
        {kind === 'number' && key('.', '.', () => { if (!/[.,]/.test(text.value)) text.value += '.'; })}
        {layers.length > 1 && [turn(-1), turn(1)]}
        {key('⌫', say.deleteLast, () => { text.value = Array.from(text.value).slice(0, -1).join(''); })}
        <button type="submit" class="push push-first">{say.take}</button>
      </div>
    </form>
  );
}
