/**
 * Keeps the screen on while live, where the browser can (W3C Screen Wake Lock). The lock is lost
 * whenever the page is hidden, and taken again when it is seen.
 */
export function keepAwake(): () => void {
  let wanted = true
  let lock: WakeLockSentinel | null = null
  const take = async () => {
    if (!wanted || document.visibilityState !== 'visible' || !('wakeLock' in navigator)) return
    try {
      const taken = await navigator.wakeLock.request('screen')
      if (wanted) lock = taken
      else void taken.release()
    } catch {
      // Low battery or the system's choice: the screen goes dark as it always does.
    }
  }
  const again = () => void take()
  document.addEventListener('visibilitychange', again)
  void take()
  return () => {
    wanted = false
    document.removeEventListener('visibilitychange', again)
    void lock?.release()
  }
}
