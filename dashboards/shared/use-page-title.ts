import { useEffect } from 'preact/hooks';

/** Names the page in the title of its tab. */
export function usePageTitle(name: string): void {
  useEffect(() => { document.title = `${name} · Seamwarden`; }, [name]);
}

/** "(3) Runs · Seamwarden": the title of a page with the count before it; a count of 0 is left out. */
export function countedTitle(title: string, count: number): string {
  const bare = title.replace(/^\(\d+\) /, '');
  return count > 0 ? `(${count}) ${bare}` : bare;
}
