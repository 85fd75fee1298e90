import type { Run } from '../../../shared/api-types/run.js';
import { wordsOf } from '../../shared/words.js';
import type { WindowsNow } from './use-windows.js';
import { windowWords } from './window-words.js';

/** Why a run has no windows, as the end of a sentence; null where it has some or they are not known yet. */
export function whyNoWindows(windows: WindowsNow, run: Pick<Run, 'run'>): string | null {
  const say = wordsOf(windowWords);
  switch (windows.is) {
    case 'known':
    case 'asking':
      return null;
    case 'unassigned':
      return say.unassigned();
    case 'notNamed':
      return say.notNamed;
    case 'unknown':
      return say.unknown(windows.id);
    case 'noGroup':
      return say.noGroup(say.revision(windows.procedure.id, windows.procedure.revision), String(run.run ?? ''));
    case 'failed':
      return say.failed(windows.reason);
  }
}

/** Which windows the traces show, or why there are none. */
export function windowsText(windows: WindowsNow, run: Pick<Run, 'run'>): string {
  const say = wordsOf(windowWords);
  if (windows.is === 'asking') return say.asking;
  if (windows.is === 'known') return say.known(say.revision(windows.procedure.id, windows.procedure.revision), windows.group.name ?? null);
  return say.none(whyNoWindows(windows, run) ?? '');
}
