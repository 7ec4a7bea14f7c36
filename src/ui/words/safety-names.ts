/** Words that every screen may need while work goes on; apart from the statements, which are many. */
import type { JobKind } from '../../session/safety/job.ts'

export const JOB_NAMES: Record<JobKind, string> = {
  'mains element': 'Mains element',
  lamp: 'Filament or halogen lamp',
  forge: 'Forge and torch',
  kiln: 'Kiln and furnace',
  melting: 'Melting salt or metal',
  quenching: 'Quenching',
}

/** "1:05:09" or "12:30". */
export function clockWords(seconds: number): string {
  const whole = Math.ceil(seconds)
  const parts = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60]
  const shown = parts[0] === 0 ? parts.slice(1) : parts
  return shown.map((part, i) => (i === 0 ? `${part}` : `${part}`.padStart(2, '0'))).join(':')
}

/** "40 s", "2 min", "2 h": as people plan with; minutes and hours that are full, as limits are told by them. */
export function spanWords(seconds: number): string {
  if (seconds < 100) return `${Math.max(1, Math.round(seconds))} s`
  if (seconds < 100 * 60) return `${Math.floor(seconds / 60)} min`
  return `${Math.floor(seconds / 3600)} h`
}
