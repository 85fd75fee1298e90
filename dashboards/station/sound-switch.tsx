import type { JSX } from 'preact';
import { wordsOf } from '../shared/words.js';
import { allowSound, muteSound, soundIsOn } from './sound.js';
import { stationWords } from './station-words.js';

export function SoundSwitch(): JSX.Element {
  const say = wordsOf(stationWords);
  const on = soundIsOn.value;
  return (
    <button type="button" class="push push-sound" onClick={() => { void (on ? muteSound() : allowSound()); }}>
      {on ? say.soundOn : say.soundOff}
    </button>
  );
}
