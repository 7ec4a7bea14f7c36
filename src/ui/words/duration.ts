/** 0:07, 12:30, 1:05:00 */
export function showDuration(seconds: number): string {
  const whole = Math.max(0, Math.round(seconds))
  const two = (n: number) => String(n).padStart(2, '0')
  const [h, m, s] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60]
  return h > 0 ? `${h}:${two(m)}:${two(s)}` : `${m}:${two(s)}`
}
