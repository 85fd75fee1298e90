import { useEffect, useRef } from 'preact/hooks';

/** Names the page in the title of its tab. */
export function usePageTitle(name: string): void {
  useEffect(() => { document.title = `${name} · Seamwarden`; }, [name]);
}

/** "(3) Runs · Seamwarden": the title of a page with the count before it; a count of 0 is left out. */
export function countedTitle(title: string, count: number): string {
  const bare = title.replace(/^\(\d+\) /, '');
  return count > 0 ? `(${count}) ${bare}` : bare;
}

/** Goes to the top of a page and moves focus to its heading when one of `by` changes, so that it is read out. At first focus stays where the browser put it. */
export function useHeadingFocus(heading: () => HTMLElement | null | undefined, by: readonly unknown[]): void {
  const first = useRef(true);
  useEffect(() => {
    if (!first.current) {
      window.scrollTo(0, 0);
      heading()?.focus();
    }
    first.current = false;
  }, by);
}
