/** Ids of the headings that the contents list leads to. */
export const partIds = { general: 'part-general', material: 'part-material', groups: 'part-groups', alarms: 'part-alarms', save: 'part-save', compare: 'part-compare', revisions: 'part-revisions' } as const;

export function groupPart(at: number): string {
  return `part-group-${at + 1}`;
}
