import { signal } from '@preact/signals'
import type { LiveFigure } from '../../estimate/live/live-line.ts'
import type { GreyMeasurement } from '../../light/grey-reference.ts'
import type { Region } from '../../light/image.ts'
import type { RollingValue } from '../../light/live/rolling.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import type { Size } from '../../light/region-geometry.ts'
import type { LiveCamera } from '../../sources/live/live-camera.ts'
import type { Locks } from '../../sources/live/lock.ts'
import type { LiveTrouble } from './live-judgement.ts'

/** What the live screen shows; {@link LiveModel} says what each is. */
export const liveSignals = (camera: LiveCamera) => ({
  size: signal<Size>(camera.size()),
  locks: signal<Locks | null>(null),
  region: signal<Region | null>(null),
  follow: signal(true),
  cardRegion: signal<Region | null>(null),
  card: signal<GreyMeasurement | null>(null),
  byCard: signal(false),
  figure: signal<LiveFigure | null>(null),
  rolling: signal<RollingValue | null>(null),
  trouble: signal<LiveTrouble | null>('reading'),
  measurement: signal<PhotoMeasurement | null>(null),
  canvasOnly: signal(false),
  held: signal(false),
  pause: signal(false),
})
