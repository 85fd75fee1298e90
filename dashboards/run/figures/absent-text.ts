import type { Absence } from '../../../shared/weld/run/absence.js';
import { quantityWord } from '../../shared/alarm-sentence.js';
import { shown } from '../../shared/units.js';
import { absentWords } from './absent-words.js';

/** Digits of the time between readings: it is a mean, and 102 ms are sent as 100 ms. */
const intervalDigits = 2;

/** Reasons for missing figures: as codes, or only in English if they were stored before there were codes. */
interface Told { readonly absent: Readonly<Record<string, string>>; readonly reasons?: Readonly<Record<string, Absence>> | undefined }

/** The reason for a missing figure, as the service gave it. */
export type Why = Absence | string;

export function whyAbsent({ absent, reasons }: Told, name: string): Why | undefined {
  return reasons?.[name] ?? absent[name];
}

/** The reason in the chosen language and units. */
export function absentText(why: Why): string {
  if (typeof why === 'string') return why;
  const say = absentWords();
  switch (why.code) {
    case 'shorter': return say.shorter(shown('fineLength', why.length));
    case 'weldZoneShorter': return say.weldZoneShorter(shown('fineLength', why.length));
    case 'feedUnknown': case 'diameterUnknown': return say[why.code](say.arcs(why.arcs));
    case 'arcStanding': return say.arcStanding(why.arc);
    case 'notSent': return say.notSent(quantityWord(why.quantity));
    case 'notSentLately': return say.notSentLately(quantityWord(why.quantity));
    case 'tooSlow': return say.tooSlow(say[why.source], String(Number(why.interval.toPrecision(intervalDigits))));
    case 'procedureUnknown': return say.procedureUnknown(why.procedure);
    case 'coolingUnknown': return why.missing.map((own) => (own === 'thickness' ? say.noThickness : say.noStartTemperature)).join('; ');
    case 'plateTooHot': return say.plateTooHot(shown('temperature', why.temperature));
    default: return say[why.code]();
  }
}
