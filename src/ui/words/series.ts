import type { SeriesAxis } from '../../log/statistics/series.ts'

export const AXIS_NAMES: Record<SeriesAxis, string> = {
  time: 'Time',
  volts: 'Volts',
  watts: 'Watts',
}
export const AXIS_LABELS: Record<SeriesAxis, string> = {
  time: 'Time',
  volts: 'Supply, V',
  watts: 'Supply, W',
}
export const POINT_NAMES = {
  common: 'One camera: what moves all together',
  own: 'One camera: against each other, bars 95 %',
  measured: 'Measured, bars 95 %',
  madeUp: 'Simulated or made up, bars 95 %',
  bounds: 'Below range: at most',
} as const
