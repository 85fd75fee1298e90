import { shown } from '../../shared/units.js';
import { wordsOf } from '../../shared/words.js';
import { absentWords } from './absent-words.js';

/** Digits of the time between readings: it is a mean, and 102 ms are sent as 100 ms. */
const interval = 2;

/** A reason of the API in the chosen language and units; one that these pages do not know yet stands as it is. */
export function absentText(reason: string): string {
  const say = wordsOf(absentWords);
  const fixed: Readonly<Record<string, string>> = {
    'neither travelSpeed nor travel was sent': say.notSent,
    'places are not known: neither travelSpeed nor travel was sent': say.placesUnknown,
    'no length was welded outside ignition, crater and tabs': say.noWeld,
    'the arc was seen for an instant only': say.instant,
    'no wireFeedSpeed was sent': say.noWire,
    'there is no mean to relate it to': say.noMean,
    'the run is not assigned': say.notAssigned(),
    'the assignment names no procedure': say.noProcedure,
    'the run is not finished': say.notFinished(),
    'it was not noted when the run was recorded': say.notNoted(),
    'it was not worked out when the run was recorded, and its rows can no longer be read': say.rowsLost(),
  };
  const known = fixed[reason];
  if (known !== undefined) return known;
  const short = /^the run is shorter than (\d+(?:\.\d+)?) mm$/.exec(reason);
  if (short !== null) return say.short(shown('fineLength', Number(short[1])));
  const standing = /^arc (\d+) burnt without travel$/.exec(reason);
  if (standing !== null) return say.standing(Number(standing[1]));
  const slow = /^(readings|blocks|readings or blocks) at (\S+) ms cannot show them$/.exec(reason);
  if (slow !== null) return say.tooSlow(slow[1] === 'readings' ? say.readings : slow[1] === 'blocks' ? say.blocks : say.both, String(Number(Number(slow[2]).toPrecision(interval))));
  const unknown = /^the procedure (.+) does not exist$/.exec(reason);
  return unknown === null ? reason : say.procedureUnknown(unknown[1] ?? '');
}
