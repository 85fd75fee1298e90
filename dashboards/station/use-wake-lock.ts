import { useEffect } from 'preact/hooks';

/** Keeps the screen on while the page is seen, where the browser can; it lets go by itself when the page is hidden, and is asked again then. */
export function useWakeLock(): void {
  useEffect(() => {
    let lock: WakeLockSentinel | null = null;
    let left = false;
    const ask = async (): Promise<void> => {
      if (document.visibilityState !== 'visible' || !('wakeLock' in navigator)) return;
      try {
        const got = await navigator.wakeLock.request('screen');
        if (left) await got.release();
        else lock = got;
      } catch {
        // A browser may refuse, on low battery for one; the screen then sleeps as it is set to.
      }
    };
    const again = (): void => {
      void ask();
    };
    document.addEventListener('visibilitychange', again);
    again();
    return () => {
      left = true;
      document.removeEventListener('visibilitychange', again);
      void lock?.release();
    };
  }, []);
}
