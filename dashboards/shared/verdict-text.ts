import { capital } from './capital.js';
import { quantityWord } from './alarm-sentence.js';
import type { CarriageVerdict } from './carriage-verdict.js';
import { verdictWords } from './verdict-words.js';
import { wordsOf } from './words.js';

/** The word of a verdict; a fault is named by what is wrong. */
export function verdictText({ verdict, alarm }: CarriageVerdict): string {
  const say = wordsOf(verdictWords);
  if (verdict !== 'fault') return say[verdict];
  const quantity = alarm?.quantity ?? '';
  if (quantity === 'noData' || quantity === 'travelStopped' || quantity === 'polarity' || quantity === 'overlap') return say[quantity];
  return capital(quantityWord(quantity));
}
