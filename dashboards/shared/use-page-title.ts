import { useEffect } from 'preact/hooks';

/** Names the page in the title of its tab. */
export function usePageTitle(name: string): void {
  useEffect(() => {
    document.title = `${name} · Seamwarden`;
  }, [name]);
}
