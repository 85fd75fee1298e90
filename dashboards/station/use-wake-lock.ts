import { useEffect } from 'preact/hooks';

/** Keeps the screen on while the page is visible, if the browser can. The lock ends when the page is hidden, and is requested again afterwards. */
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
        // A browser may refuse, for example on low battery; then the screen sleeps as usual.
      }
    };
    const again = (): void => { void ask(); };
    document.addEventListener('visibilitychange', again);
    again();
    return () => {
      left = true;
      document.removeEventListener('visibilitychange', again);
      void lock?.release();
    };
  }, []);
}
