import { language, unitSystem } from './choices.js';

/** What one passage along a seam is called in English: AWS says pass, so people who use US units read that. */
export function runWord(): 'run' | 'pass' {
  return unitSystem.value === 'us' ? 'pass' : 'run';
}

export function runsWord(): 'runs' | 'passes' {
  return unitSystem.value === 'us' ? 'passes' : 'runs';
}

/** "run 3", "pass 3" or "焊道 3". */
export function runNumber(run: number): string {
  return `${language.value === 'zh' ? '焊道' : runWord()} ${run}`;
}

/** What a carriage welds: "DK-0417/L2 · run 3". */
export function seamAndRun({ seam, run }: { readonly seam: string; readonly run: number }): string {
  return `${seam} · ${runNumber(run)}`;
}
