import type { JSX } from 'preact';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import { quantityWord } from '../shared/alarm-sentence.js';
import { decimalsOf, unitOf, type ShownQuantity } from '../shared/units.js';
import { capital } from '../shared/words.js';
import { typedNumber, type Entry } from './entry.js';
import type { WindowName } from './field-specs.js';
import { formWords } from './form-words.js';
import { proposedPercent, windowAround } from './mean-window.js';

/** Computes a window from a mean value and ± per cent, in the chosen unit; it is filled in only when somebody confirms it. */
export function MeanHelp({ window, quantity, onFill, onClose }: {
  readonly window: WindowName;
  readonly quantity: ShownQuantity;
  readonly onFill: (min: Entry, max: Entry) => void;
  readonly onClose: () => void;
}): JSX.Element {
  const say = formWords();
  const proposed = proposedPercent[window];
  const [mean, setMean] = useState('');
  const [percent, setPercent] = useState(proposed === undefined ? '' : String(proposed));
  const first = useRef<HTMLInputElement>(null);
  useLayoutEffect(() => { first.current?.focus(); }, []);
  const made = windowAround(typedNumber(mean, null).value ?? Number.NaN, typedNumber(percent, null).value ?? Number.NaN, decimalsOf(quantity));
  const unit = `\u00a0${unitOf(quantity)}`;
  const fill = (): void => {
    if (made !== null) onFill(typedNumber(String(made.usableLow), quantity), typedNumber(String(made.usableHigh), quantity));
  };
  return (
    <div
      class="mean-help"
      role="group"
      aria-label={say.fromMeanOf(capital(quantityWord(window)))}
      onKeyDown={(event) => {
        if (event.key === 'Escape') onClose();
        if (event.key === 'Enter' && event.target instanceof HTMLInputElement) {
          event.preventDefault();
          fill();
        }
      }}
    >
      <label>
        {say.mean(unitOf(quantity))}
        <input ref={first} type="text" inputMode="decimal" class="digits" autocomplete="off" value={mean} onInput={(event) => { setMean(event.currentTarget.value); }} />
      </label>
      <label>
        {say.percent}
        <input type="text" inputMode="decimal" class="digits" autocomplete="off" value={percent} onInput={(event) => { setPercent(event.currentTarget.value); }} />
      </label>
      <button type="button" onClick={fill} aria-disabled={made === null}>{say.fillIn}</button>
      <button type="button" onClick={onClose}>{say.close}</button>
      <p class="hint" role="status">
        {made === null ? say.meanAsk : say.meanGives(`${made.low}${unit}`, `${made.high}${unit}`, `${made.usableLow}${unit}`, `${made.usableHigh}${unit}`)}
        {proposed !== undefined && ` ${say.proposed(proposed)}`}
      </p>
    </div>
  );
}
