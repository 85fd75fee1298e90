/** What counted of each boot, as a tally (shared/weld/items/item-tally.ts): every item of it has to be found again in a fold or among the late ones. */
export const itemAccounts: readonly string[] = ['ALTER TABLE boots ADD COLUMN taken TEXT'];
