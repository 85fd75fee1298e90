import type { JSX } from 'preact';
import { choiceLabels } from '../shared/choices-controls.js';
import { chooseLanguage, chooseUnits, language, unitSystem } from '../shared/choices.js';
import { PageLinks } from '../shared/header.js';
import { wordsOf } from '../shared/words.js';
import { stationWords } from './station-words.js';

/** Other pages, units and language, as presses of the size of a glove. */
export function StationMenu(): JSX.Element {
  const say = wordsOf(stationWords);
  return (
    <div class="station-menu">
      <PageLinks page="station" />
      <div role="group" aria-label={choiceLabels.units}>
        {(['metric', 'us'] as const).map((name) => (
          <button key={name} type="button" class="push" aria-pressed={unitSystem.value === name} onClick={() => { chooseUnits(name); }}>
            {choiceLabels[name]}
          </button>
        ))}
      </div>
      <div role="group" aria-label={choiceLabels.language}>
        {(['en', 'zh'] as const).map((name) => (
          <button key={name} type="button" class="push" lang={name} aria-pressed={language.value === name} onClick={() => { chooseLanguage(name); }}>
            {choiceLabels[name]}
          </button>
        ))}
      </div>
      <p>{say.soundFirst}</p>
    </div>
  );
}
