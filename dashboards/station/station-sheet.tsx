import type { JSX } from 'preact';
import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { ClearedSheet } from './cleared-sheet.js';
import { JobSheet } from './job-sheet.js';
import { MaterialSheet } from './material-sheet.js';
import { personHere } from './people.js';
import { PeopleSheet } from './people-sheet.js';
import { Preparation } from './preparation.js';
import type { SheetName } from './sheet.js';
import { StationMenu } from './station-menu.js';
import type { AlarmWrites } from './use-alarm-writes.js';
import { TemperatureSheet } from './temperature-sheet.js';
import { now } from '../shared/now.js';
import { NoteChoice, ShelveChoice } from './alarm-choices.js';

interface SheetProps {
  readonly carriage: Carriage;
  readonly sheet: SheetName;
  readonly show: (sheet: SheetName | null) => void;
  /** The alarm that a note or a shelving is for. */
  readonly alarm: Alarm | null;
  readonly writes: AlarmWrites;
  readonly signer: string;
  readonly note: (alarm: Alarm) => void;
  readonly noteDone: () => void;
}

/** The sheet that currently covers the numbers. */
export function StationSheet({ carriage, sheet, show, alarm, writes, signer, note, noteDone }: SheetProps): JSX.Element | null {
  const close = (): void => { show(null); };
  switch (sheet) {
    case 'menu': return <StationMenu site={carriage.site} carriage={carriage.carriage} show={show} close={close} />;
    case 'note': return alarm === null ? null : <NoteChoice key={alarm.id} alarm={alarm} write={writes.note} done={noteDone} />;
    case 'shelve': return alarm === null ? null : <ShelveChoice key={alarm.id} alarm={alarm} write={writes.shelve} done={close} />;
    case 'alarms': return <ClearedSheet carriage={carriage} writes={writes} note={note} close={close} />;
    case 'checks': return <Preparation carriage={carriage} signer={signer} close={close} material={() => { show('material'); }} temperature={() => { show('temperature'); }} />;
    case 'who': return <PeopleSheet carriage={carriage} close={close} />;
    case 'job': return <JobSheet carriage={carriage} person={personHere(now.value)} close={close} />;
    case 'temperature': return <TemperatureSheet carriage={carriage} signer={signer} close={close} />;
    case 'material': return <MaterialSheet carriage={carriage} signer={signer} close={close} />;
  }
}
