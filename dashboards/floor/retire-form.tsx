import type { JSX } from 'preact';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { retireCarriage } from '../shared/api.js';
import { forgetCarriage } from '../shared/carriages-now.js';
import { handleSubmit } from '../shared/handle-submit.js';
import { personName } from '../shared/person-name.js';
import { wordsOf } from '../shared/words.js';
import { floorWords } from './floor-words.js';

/** Asks for confirmation before a carriage is removed from the floor, and for the name of the person who removes it. */
export function RetireForm({ carriage, onDone }: { readonly carriage: Carriage; readonly onDone: () => void }): JSX.Element {
  const say = wordsOf(floorWords);
  const field = useRef<HTMLInputElement>(null);
  const [tried, setTried] = useState(0);
  const [failure, setFailure] = useState<string | null>(null);
  const { site, carriage: name } = carriage;
  const by = personName.value.trim();
  const wrong = tried > 0 && by === '';
  useLayoutEffect(() => field.current?.focus(), [tried]);
  const send = async (): Promise<void> => {
    if (by === '') {
      setTried(tried + 1);
      return;
    }
    const answer = await retireCarriage(site, name, by);
    if (answer.ok || answer.failure.status === 404) {
      forgetCarriage({ site, carriage: name });
      onDone();
    } else setFailure(answer.failure.status === 409 ? say.retireWelding : say.notSaved(answer.failure.reason));
  };
  return (
    <form
      noValidate
      onSubmit={handleSubmit(() => { void send(); })}
    >
      <h2>{say.retireQuestion(name)}</h2>
      <p>{say.retireMore}</p>
      <label>
        {say.yourName}
        <input
          ref={field}
          type="text"
          maxLength={100}
          autocomplete="name"
          value={personName.value}
          onInput={(event) => { personName.value = event.currentTarget.value; }}
          aria-invalid={wrong ? 'true' : undefined}
          aria-describedby={wrong ? 'retire-wrong' : undefined}
        />
      </label>
      <p id="retire-wrong" role="alert" class="wrong">{wrong ? say.nameNeeded : (failure ?? '')}</p>
      <p class="tile-dialog-buttons">
        <button type="submit">{say.retireYes}</button>
        <button type="button" onClick={onDone}>{say.cancel}</button>
      </p>
    </form>
  );
}
