import type { JSX } from 'preact';
import { writeAddress } from '../shared/address.js';
import { choiceLabels } from '../shared/choices-controls.js';
import { chooseLanguage, chooseUnits, language, unitSystem } from '../shared/choices.js';
import { PageLinks } from '../shared/header.js';
import { keepOwnCarriage } from './own-carriage.js';
import { Sheet, type SheetName } from './sheet.js';
import { allowSound, muteSound, soundIsOn } from './sound.js';
import { stationWords } from './station-words.js';
import { temperatureWords } from './temperature-words.js';

/** Who is here, sound, the other carriages and pages, units and language, as presses of the size of a glove. */
export function StationMenu({ site, carriage, show, close }: { readonly site: string; readonly carriage: string; readonly show: (sheet: SheetName) => void; readonly close: () => void }): JSX.Element {
  const say = stationWords();
  return (
    <Sheet title={say.menu} close={close}>
      <div class="station-menu">
        <div class="pushes">
          <button type="button" class="push" onClick={() => { show('who'); }}>{say.whoIsHere}</button>
          <button type="button" class="push" onClick={() => { show('job'); }}>{say.otherJob}</button>
          <button type="button" class="push" onClick={() => { show('material'); }}>{say.material}</button>
          <button type="button" class="push" onClick={() => { show('temperature'); }}>{temperatureWords().enter}</button>
          <SoundSwitch />
          <a class="push" href={writeAddress(['sensors', site, carriage])}>{say.sensors}</a>
          <a class="push" href="#/station" onClick={() => { keepOwnCarriage(null); }}>{say.changeCarriage}</a>
        </div>
        <div class="pushes" role="group" aria-label={choiceLabels.units}>
          {(['metric', 'us'] as const).map((name) => (
            <button key={name} type="button" class="push" aria-pressed={unitSystem.value === name} onClick={() => { chooseUnits(name); }}>
              {choiceLabels[name]}
            </button>
          ))}
        </div>
        <div class="pushes" role="group" aria-label={choiceLabels.language}>
          {(['en', 'zh'] as const).map((name) => (
            <button key={name} type="button" class="push" lang={name} aria-pressed={language.value === name} onClick={() => { chooseLanguage(name); }}>
              {choiceLabels[name]}
            </button>
          ))}
        </div>
        <PageLinks page="station" />
        <p>{say.soundFirst}</p>
      </div>
    </Sheet>
  );
}

function SoundSwitch(): JSX.Element {
  const say = stationWords();
  const on = soundIsOn.value;
  return (
    <button type="button" class="push push-sound" onClick={() => { void (on ? muteSound() : allowSound()); }}>
      {on ? say.soundOn : say.soundOff}
    </button>
  );
}
