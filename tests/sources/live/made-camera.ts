import type {
  ControlName,
  ControlRanges,
  ControlSettings,
  ControlValue,
  LiveCamera,
} from '../../../src/sources/live/live-camera.ts'

export interface Made {
  readonly offers: ControlRanges
  readonly starts?: ControlSettings
  /** Names that reject, and names that answer well and change nothing. */
  readonly rejects?: readonly ControlName[]
  readonly ignores?: readonly ControlName[]
}

/** The controls of a track made up for the test: what it offers, what it does. */
export function madeControls({ offers, starts = {}, rejects = [], ignores = [] }: Made) {
  const settings: Record<string, ControlValue> = { ...starts } as Record<string, ControlValue>
  const asked: ControlName[] = []
  const controls: Pick<LiveCamera, 'capabilities' | 'settings' | 'apply'> = {
    capabilities: () => offers,
    settings: () => settings as ControlSettings,
    async apply(name, value) {
      asked.push(name)
      if (rejects.includes(name)) throw new DOMException('no', 'OverconstrainedError')
      if (!ignores.includes(name)) settings[name] = value
    },
  }
  return { controls, asked }
}
