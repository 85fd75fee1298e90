import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import type { CarriageState } from '../shared/carriage-state.js';
import { carriageVerdict } from '../shared/carriage-verdict.js';
import { carriageNow } from '../shared/carriages-now.js';
import { ConnectionState } from '../shared/connection-state.js';
import { isConnected } from '../shared/is-connected.js';
import { now, serverNow } from '../shared/now.js';
import { seamAndRun } from '../shared/common-words.js';
import { Simulated } from '../shared/simulated.js';
import { shelvedAlarms } from '../shared/standing-alarms.js';
import { formatAge } from '../shared/times.js';
import { usePageTitle } from '../shared/use-page-title.js';
import { AlarmPanel, QuietLine } from './alarm-panel.js';
import { asksElsewhere, BetweenRuns, ElsewhereQuestion } from './between-runs.js';
import { ChooseStation } from './choose-station.js';
import { Headline } from './headline.js';
import { keepOwnCarriage } from './own-carriage.js';
import { personHere, signerAt } from './people.js';
import { Quantities } from './quantities.js';
import { Rail } from './rail.js';
import type { SheetName } from './sheet.js';
import { StationSheet } from './station-sheet.js';
import { stationWords } from './station-words.js';
import './station.css';
import './push.css';
import './alarm-panel.css';
import './sheet.css';
import { useAlarmTurn } from './use-alarm-turn.js';
import { useAlarmWrites } from './use-alarm-writes.js';
import { useHistory } from './history.js';
import { useTones } from './sound.js';
import { useWakeLock } from './use-wake-lock.js';

/** What the person at the carriage needs: one sentence, the values in their ranges, and the active alarm. */
export function StationPage({ site, carriage }: { readonly site: string | null; readonly carriage: string | null }): JSX.Element {
  const say = stationWords();
  const key = `${site ?? ''}/${carriage ?? ''}`;
  const own = carriageNow(key);
  const known = own !== undefined;
  usePageTitle(carriage === null ? say.choose : say.stationOf(carriage));
  useEffect(() => { if (known) keepOwnCarriage(key); }, [known, key]);
  if (own === undefined) return <ChooseStation wanted={carriage} />;
  return <Station carriage={own} />;
}

function Station({ carriage }: { readonly carriage: Carriage }): JSX.Element {
  const verdict = carriageVerdict(carriage, serverNow.value, isConnected.value);
  const sheet = useSignal<SheetName | null>(null);
  /** The alarm that gets a note, if it is not the one in the panel. */
  const noted = useSignal<Alarm | null>(null);
  const answered = useSignal<string | null>(null);
  const signer = signerAt(carriage.carriage, now.value);
  const writes = useAlarmWrites(signer);
  const history = useHistory(carriage);
  const turn = useAlarmTurn(carriage, verdict, () => {
    // A sheet in which somebody types stays open; one that belongs to another alarm closes and can be opened later.
    if (sheet.value === 'note' || sheet.value === 'shelve' || sheet.value === 'menu') sheet.value = null;
    noted.value = null;
  });
  useTones(carriage.alarms);
  useWakeLock();
  const show = (next: SheetName | null): void => {
    noted.value = null;
    sheet.value = next;
  };
  const acknowledge = (alarm: Alarm): void => {
    void writes.acknowledge(alarm).then((taken) => { if (taken !== null) turn.askNote(taken); });
  };
  const elsewhere = asksElsewhere(carriage, answered.value);
  return (
    <div class="station" data-verdict={verdict.verdict} data-welding={carriage.welding}>
      <div class="station-main">
        <StationBar carriage={carriage} state={verdict.state} person={personHere(now.value)} />
        <Headline carriage={carriage} verdict={verdict} alarm={turn.alarm} />
        {elsewhere && turn.count === 0 ? (
          <section class="alarm-panel" aria-label={stationWords().alarms}>
            <ElsewhereQuestion carriage={carriage} signer={signer} answered={() => { answered.value = carriage.run; }} />
          </section>
        ) : (
          <AlarmPanel carriage={carriage} alarm={turn.alarm} verdict={verdict} failure={writes.failure}>
            <QuietLine carriage={carriage} hidden={turn.alarm?.state === 'shelved' ? shelvedAlarms(carriage).count : 0} />
          </AlarmPanel>
        )}
        <div class="station-body">
          {sheet.value !== null ? (
            <StationSheet
              carriage={carriage}
              sheet={sheet.value}
              show={show}
              alarm={noted.value ?? turn.noteOn ?? turn.alarm}
              writes={writes}
              signer={signer}
              note={(alarm) => {
                noted.value = alarm;
                sheet.value = 'note';
              }}
              noteDone={() => {
                turn.endNote();
                show(null);
              }}
            />
          ) : carriage.welding ? (
            <Quantities carriage={carriage} state={verdict.state} history={history} />
          ) : (
            <BetweenRuns carriage={carriage} signer={signer} show={show} />
          )}
        </div>
      </div>
      <Rail carriage={carriage} turn={turn} sheet={sheet.value} show={show} acknowledge={acknowledge} />
    </div>
  );
}

/** Data younger than this is live, ms. */
const live = 1_500;

/** The carriage, its job, the person at it, and the age of the data. */
function StationBar({ carriage, state, person }: { readonly carriage: Carriage; readonly state: CarriageState; readonly person: string | null }): JSX.Element {
  const say = stationWords();
  const { assignment } = carriage;
  return (
    <div class="station-bar">
      <h1 tabIndex={-1}>{carriage.carriage} {assignment !== null && <span class="station-seam">{seamAndRun(assignment)}</span>}</h1>
      {assignment?.simulated === true && <Simulated />}
      <p class="station-person">{person ?? say.nobodyHere}</p>
      <div class="station-link">
        <ConnectionState />
        <p>{state.age === null ? say.noDataYet : state.age < live ? say.live : say.dataAge(formatAge(state.age))}</p>
      </div>
    </div>
  );
}
