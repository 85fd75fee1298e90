/** "(3) Runs · Seamwarden": the title of a page with the count before it; none where it is 0. */
export function countedTitle(title: string, count: number): string {
  const bare = title.replace(/^\(\d+\) /, '');
  return count > 0 ? `(${count}) ${bare}` : bare;
}
