/**
 * Asks the browser to keep the screen on.
 * The lock is lost whenever the page is hidden, so it is asked for again on every return.
 * @returns lets go of it
 */
export function keepAwake(): () => void {
  if (!('wakeLock' in navigator)) return () => {};
  let wanted = true;
  let lock: WakeLockSentinel | null = null;
  const ask = async (): Promise<void> => {
    if (document.visibilityState !== 'visible') return;
    try {
      const granted = await navigator.wakeLock.request('screen');
      if (wanted) lock = granted;
      else await granted.release();
    } catch {
      // Refused (low battery, power saving): the set goes on, the screen may go dark.
    }
  };
  const onReturn = (): void => void ask();
  document.addEventListener('visibilitychange', onReturn);
  void ask();
  return () => {
    wanted = false;
    document.removeEventListener('visibilitychange', onReturn);
    void lock?.release();
  };
}
