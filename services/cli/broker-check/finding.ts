/** One finding of `check`: fine, something that would lose data or keep the service from working, or something that people should know. */
export interface Finding {
  readonly state: 'ok' | 'wrong' | 'note';
  readonly text: string;
}

export const ok = (text: string): Finding => ({ state: 'ok', text });
export const wrong = (text: string): Finding => ({ state: 'wrong', text });
export const note = (text: string): Finding => ({ state: 'note', text });

export function reasonOf(thrown: unknown): string {
  return thrown instanceof Error ? thrown.message || thrown.name : String(thrown);
}
