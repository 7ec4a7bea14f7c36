import type { Method } from '../../log/schema/types.ts'

export const METHOD_NAMES: Record<Method, string> = {
  photo: 'Photo',
  raw: 'Raw photo',
  sweep: 'Exposure sweep',
  live: 'Live camera',
  'by eye': 'By eye',
  practice: 'Practice',
  'by hand': 'Entered by hand',
  spectrum: 'Spectrum',
  combined: 'Combined',
  supply: 'Supply power',
  brightness: 'Brightness',
  'hot work': 'Hot work',
}
