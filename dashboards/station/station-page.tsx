import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import { carriageVerdict } from '../shared/carriage-verdict.js';
import { carriageAt, carriageKeys } from '../shared/carriages-now.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { isConnected } from '../shared/is-connected.js';
import { serverNow } from '../shared/now.js';
import { wordsOf } from '../shared/words.js';
import { AlarmPanel } from './alarm-panel.js';
import { BetweenRuns } from './between-runs.js';
import { ChooseStation } from './choose-station.js';
import { Headline } from './headline.js';
import { Quantities } from './quantities.js';
import { StationBar } from './station-bar.js';
import { stationWords } from './station-words.js';
import './station.css';
import { useTones } from './use-tones.js';

/** What the one at the carriage needs: one sentence, the values in their ranges, and what stands. */
export function StationPage({ site, carriage }: { readonly site: string | null; readonly carriage: string | null }): JSX.Element {
  const say = wordsOf(stationWords);
  const key = `${site ?? ''}/${carriage ?? ''}`;
  const own = carriageKeys.value.includes(key) ? carriageAt(key)?.value : undefined;
  useEffect(() => {
    document.title = `${say.title(carriage ?? '')} · Seamwarden`;
  }, [say, carriage]);
  if (own === undefined) return <ChooseStation wanted={carriage} />;
  return <Station carriage={own} />;
}

function Station({ carriage }: { readonly carriage: Carriage }): JSX.Element {
  const verdict = carriageVerdict(carriage, serverNow.value, isConnected.value);
  useTones(carriage.alarms);
  return (
    <div class="station" data-verdict={verdict.verdict} data-welding={carriage.welding}>
      <StationBar carriage={carriage} state={verdict.state} />
      <Headline carriage={carriage} verdict={verdict} />
      <AlarmPanel carriage={carriage} />
      {carriage.welding ? <Quantities carriage={carriage} state={verdict.state} /> : <BetweenRuns carriage={carriage} />}
    </div>
  );
}
