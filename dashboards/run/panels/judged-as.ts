import { judgingDefaults } from '../../../shared/weld/procedure/run-windows.js';
import { shown } from '../../shared/units.js';
import type { WindowsNow } from '../windows/use-windows.js';
import { panelWords } from './panel-words.js';

/** s over which variation runs (rules of computation, section 5: common practice, no source). */
const variationTime = 10;

/** How the value that is compared with the limits of a quantity is computed; null if no limits are known. */
export function judgedAs(windows: WindowsNow, measure: string): string | null {
  if (windows.is !== 'known') return null;
  const say = panelWords();
  const { smoothing = judgingDefaults.smoothing, heatInputLength = judgingDefaults.heatInputLength } = windows.procedure.alarm ?? {};
  if (measure === 't85') return say.byHeat(shown('length', heatInputLength));
  if (measure === 'heatInput') return say.overLength(shown('length', heatInputLength));
  if (measure === 'currentVariation' || measure === 'voltageVariation') return say.overLast(shown('time', variationTime));
  return smoothing > 0 ? say.overTime(shown('time', smoothing)) : say.rowByRow;
}

