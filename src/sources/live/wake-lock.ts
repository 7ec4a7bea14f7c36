/**
 * Keeps the screen on while live, where the browser can (W3C Screen Wake Lock). The lock is lost
 * whenever the page is hidden, and taken again when it is seen.
 *
 * @param onRefused the system saves its battery, or the browser cannot: the screen may go dark
 */
export function keepAwake(onRefused: () => void): () => void {
  let wanted = true
  let lock: WakeLockSentinel | null = null
  const take = async () => {
    if (!wanted || document.visibilityState !== 'visible') return
    try {
      const taken = await navigator.wakeLock.request('screen')
      if (wanted) lock = taken
      else void taken.release()
    } catch {
      if (wanted) onRefused()
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
