import type { JSX } from 'preact';
import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { isActive } from '../shared/standing-alarms.js';
import type { SheetName } from './sheet.js';
import { stationWords } from './station-words.js';
import type { AlarmTurn } from './use-alarm-turn.js';

interface RailProps {
  readonly carriage: Carriage;
  readonly turn: AlarmTurn;
  readonly sheet: SheetName | null;
  readonly show: (sheet: SheetName | null) => void;
  readonly acknowledge: (alarm: Alarm) => void;
}

/** All buttons, each in a fixed place; the place of a button that has no use stays empty. */
export function Rail({ carriage, turn, sheet, show, acknowledge }: RailProps): JSX.Element {
  const say = stationWords();
  const { alarm, noteOn } = turn;
  const { cleared, shelved } = carriage.alarmCounts;
  const quiet = cleared + shelved;
  const toggle = (name: SheetName): void => { show(sheet === name ? null : name); };
  const open = (name: SheetName): { readonly 'aria-expanded': boolean; readonly onClick: () => void } => ({ 'aria-expanded': sheet === name, onClick: () => { toggle(name); } });
  return (
    <nav class="rail" aria-label={say.actions}>
      {sheet === null ? (
        <button type="button" class="push" {...open('menu')}>{say.menu}</button>
      ) : (
        <button type="button" class="push push-first" onClick={() => { show(null); }}>{say.close}</button>
      )}
      {alarm?.state === 'unacknowledged' ? (
        <button type="button" class="push push-first" onClick={() => { acknowledge(alarm); }}>{say.acknowledge}</button>
      ) : noteOn !== null ? (
        <button type="button" class="push push-note" {...open('note')}>
          {say.noteNow}
          <span class="note-left" style={{ width: `${turn.noteLeft * 10}%` }} />
        </button>
      ) : alarm !== null && isActive(alarm) ? (
        <button type="button" class="push" {...open('note')}>{say.addNote}</button>
      ) : (
        <span class="rail-empty" />
      )}
      {alarm !== null && isActive(alarm) ? (
        <button type="button" class="push" {...open('shelve')}>{say.shelve}</button>
      ) : (
        <span class="rail-empty" />
      )}
      {turn.count > 1 ? (
        <button type="button" class="push" onClick={turn.next}>{say.nextAlarm(turn.at + 1, turn.count)}</button>
      ) : (
        <button type="button" class="push" {...open('alarms')}>{quiet === 0 ? say.alarms : say.quietCount(cleared, shelved)}</button>
      )}
      <Work carriage={carriage} open={open} />
    </nav>
  );
}

/** The button for the work: the checks while some are open, otherwise wire and flux. */
function Work({ carriage, open }: { readonly carriage: Carriage; readonly open: (name: SheetName) => { readonly 'aria-expanded': boolean; readonly onClick: () => void } }): JSX.Element {
  const say = stationWords();
  const missing = carriage.preparation?.missing.length ?? 0;
  if (carriage.assignment === null) return <button type="button" class="push" {...open('job')}>{say.giveJob}</button>;
  return <button type="button" class="push" {...open('checks')}>{missing === 0 ? say.checksAndMaterial : say.checksOpen(missing)}</button>;
}
