import type { HeatView } from '../../colour/heat-view.ts'
import type { FixedPointChoice } from '../../physics/fixed-points.ts'
import type { WorkingRange, WorkKind } from '../../physics/working-ranges.ts'
import type { RoomId } from '../../session/chart/room-light.ts'

export const VIEW_WORDS: Record<HeatView['kind'], { name: string; line: string }> = {
  hue: {
    name: 'Hue only',
    line: 'All at one lightness: what differs is the colour itself.',
  },
  'dark-shop': {
    name: 'Dark shop',
    line: 'As bright as an eye used to the dark sees it, from the first glow on.',
  },
  camera: {
    name: 'This camera',
    line: 'What the camera stores of a glow: hold this beside a photo, not beside the piece.',
  },
}

export const MARK_WORDS = {
  names: 'Names',
  work: 'Working ranges',
  heats: 'Known heats',
  limits: 'Limits',
} as const

export const WORK_NAMES: Record<WorkKind, string> = {
  forging: 'Forging',
  hardening: 'Hardening',
  burning: 'Burning',
}

export const STEEL_NAMES: Record<WorkingRange['steel'], string> = {
  'low-carbon': 'low carbon',
  'medium-carbon': 'medium carbon',
  'high-carbon': 'high carbon',
  'stainless-18-8': 'stainless 18-8',
}

export const CHART_POINTS: readonly { name: string; choice: FixedPointChoice }[] = [
  { name: 'aluminium melts', choice: { id: 'aluminium' } },
  {
    name: 'magnet lets go, high carbon',
    choice: { id: 'magnet-point', steelClass: 'high-carbon' },
  },
  { name: 'magnet lets go, low carbon', choice: { id: 'magnet-point', steelClass: 'low-carbon' } },
  { name: 'potassium chloride melts', choice: { id: 'potassium-chloride' } },
  { name: 'table salt melts', choice: { id: 'sodium-chloride' } },
  { name: 'sodium sulfate melts', choice: { id: 'sodium-sulfate' } },
  { name: 'silver melts, open air', choice: { id: 'silver', atmosphere: 'open-air' } },
  { name: 'gold melts', choice: { id: 'gold' } },
  { name: 'copper melts, open air', choice: { id: 'copper', atmosphere: 'open-air' } },
  { name: 'potassium sulfate melts', choice: { id: 'potassium-sulfate' } },
]

export const ROOM_NAMES: Record<RoomId, string> = {
  dark: 'Dark shop',
  dim: 'Dim corner',
  lit: 'Lit workshop',
  shade: 'Outdoors, shade',
}

export const COMPUTED =
  'Computed: Planck’s law, the CIE 1931 observer, colours that the screen cannot show brought in at constant lightness and hue (OKLCh).'

export const CHART_CAUTION =
  'Printed charts disagree by up to 100 °C. A screen shows a colour, not a heat: its brightness, night or warm-tint mode and automatic tint all change what you see.'
