/** "(3) Runs · Seamwarden": the title of a page with the count before it; a count of 0 is left out. */
export function countedTitle(title: string, count: number): string {
  const bare = title.replace(/^\(\d+\) /, '');
  return count > 0 ? `(${count}) ${bare}` : bare;
}
