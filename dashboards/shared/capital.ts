/** With its first letter as at the beginning of a sentence; Chinese stays as it is. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
