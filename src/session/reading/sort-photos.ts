/** Several photos at once: cards, exposure sweeps, and photos that stand alone. */
import type { Region } from '../../light/image.ts'
import type { PhotoLook } from '../../sources/photo/photo-look.ts'
import { deviceIdOf } from './photo-meaning.ts'

export type SortedLook = Pick<
  PhotoLook,
  'name' | 'width' | 'height' | 'channels' | 'facts' | 'exposure' | 'glow' | 'neutralShare'
>

export interface PhotoGroup<T extends SortedLook> {
  /** `pair`: a photo and the raw picture of the same shot, in this order. */
  readonly kind: 'card' | 'sweep' | 'single' | 'pair'
  /** In the order of taking. */
  readonly photos: readonly T[]
  /** False where the photos could as well be something else: the person is asked. */
  readonly sure: boolean
}

/** A card fills at least so much of its picture. */
const CARD_SHARE = 0.08
/** Photos of one sweep follow each other within minutes. */
const LONGEST_GAP_MS = 5 * 60_000
/** From so many photos on different exposures are a sweep. */
const LEAST_SWEEP = 3
/** log2 of exposures that are the same; of the level that the same exposure of one scene may change. */
const SAME_STOP = 0.1
const SAME_LEVEL = 0.35
/**
 * Red in linear light of the nominal curve against the exposure: tone curves stretch a stop to between
 * half of one and two.
 */
const STRETCH = [0.4, 2.2] as const

/** The order of taking: the camera's clock where all state it, else names as cameras count them. */
export function inOrderOfTaking<T extends SortedLook>(looks: readonly T[]): T[] {
  const dated = looks.every(({ facts }) => facts.takenAt !== null)
  const key = ({ facts, name }: T) => (dated ? `${facts.takenAt} ${name}` : stemOf(name))
  return [...looks].sort(
    (a, b) =>
      key(a).localeCompare(key(b), 'en', { numeric: true }) ||
      (dated ? 0 : (b.exposure ?? 0) - (a.exposure ?? 0)) ||
      a.name.localeCompare(b.name, 'en', { numeric: true }),
  )
}

/** A name without its numbers and ending: cameras count on, people name their series. */
const stemOf = (name: string): string => name.replace(/\.[^.]*$/, '').replace(/[-_+ ()\d]+/g, '')

/** Sorts photos that were given together. */
export function sortPhotos<T extends SortedLook>(looks: readonly T[]): PhotoGroup<T>[] {
  const groups: PhotoGroup<T>[] = pairsOf(looks)
  const paired = new Set(groups.flatMap(({ photos }) => photos))
  let run: T[] = []
  const close = () => {
    groups.push(...groupsOf(run))
    run = []
  }
  for (const look of inOrderOfTaking(looks.filter((look) => !paired.has(look)))) {
    if (isCard(look)) {
      close()
      groups.push({ kind: 'card', photos: [look], sure: true })
      continue
    }
    if (run.length > 0 && !goesOn(run, look)) close()
    run.push(look)
  }
  close()
  return groups
}

/** Pictures of one shot differ in shape by what is cut off at the border. */
const SAME_SHAPE = 0.05
const SAME_SHOT_MS = 1500

function pairsOf<T extends SortedLook>(looks: readonly T[]): PhotoGroup<T>[] {
  const raws = looks.filter(({ channels }) => channels === 'camera')
  const free = new Set(looks.filter(({ channels }) => channels !== 'camera'))
  return raws.flatMap((raw) => {
    const photo = [...free].find((one) => ofOneShot(one, raw))
    if (!photo) return []
    free.delete(photo)
    return [{ kind: 'pair', photos: [photo, raw], sure: true } as const]
  })
}

/** The same name but for its ending, or the same second of the same camera. */
function ofOneShot(photo: SortedLook, raw: SortedLook): boolean {
  const shape = photo.width / photo.height / (raw.width / raw.height)
  if (Math.abs(Math.log(shape)) > SAME_SHAPE) return false
  const named = ({ name }: SortedLook) => name.replace(/\.[^.]*$/, '').toLowerCase()
  if (named(photo) === named(raw)) return true
  const apart = Date.parse(photo.facts.takenAt ?? '') - Date.parse(raw.facts.takenAt ?? '')
  return deviceIdOf(photo.facts) === deviceIdOf(raw.facts) && Math.abs(apart) < SAME_SHOT_MS
}

export const isCard = ({ glow, neutralShare }: SortedLook): boolean =>
  glow.kind === 'none' && neutralShare >= CARD_SHARE

function goesOn(run: readonly SortedLook[], next: SortedLook): boolean {
  const last = run.at(-1)!
  if (last.width !== next.width || last.height !== next.height) return false
  if (deviceIdOf(last.facts) !== deviceIdOf(next.facts)) return false
  if (stemOf(last.name) !== stemOf(next.name)) return false
  const gap = Date.parse(next.facts.takenAt ?? '') - Date.parse(last.facts.takenAt ?? '')
  if (Number.isFinite(gap) && gap > LONGEST_GAP_MS) return false
  // The same exposure of the same scene shows the same level.
  return run.every((one) => agree(one, next) !== false)
}

/** Whether two photos can be of one scene by level and exposure; null where they cannot be compared. */
function agree(a: SortedLook, b: SortedLook): boolean | null {
  if (a.glow.kind !== 'found' || b.glow.kind !== 'found') return null
  if (a.exposure === null || b.exposure === null) return null
  if (a.glow.besideClipped || b.glow.besideClipped) return null
  const stops = Math.log2(a.exposure / b.exposure)
  const level = Math.log2(a.glow.redLevel / b.glow.redLevel)
  if (Math.abs(stops) < SAME_STOP) return Math.abs(level) < SAME_LEVEL
  const stretch = level / stops
  return stretch > STRETCH[0] && stretch < STRETCH[1]
}

function groupsOf<T extends SortedLook>(run: readonly T[]): PhotoGroup<T>[] {
  if (run.length === 0) return []
  const alone = (sure: boolean): PhotoGroup<T>[] =>
    run.map((look) => ({ kind: 'single', photos: [look], sure }))
  if (run.length === 1) return alone(true)
  if (!samePlace(run)) return alone(true)
  const stated = run.flatMap(({ exposure }) => (exposure === null ? [] : [exposure]))
  if (stated.length < run.length) {
    return run.length < LEAST_SWEEP ? alone(false) : [{ kind: 'sweep', photos: run, sure: false }]
  }
  const stops = Math.log2(Math.max(...stated) / Math.min(...stated))
  if (stops < 1) return alone(true)
  if (run.length < LEAST_SWEEP) return alone(false)
  const compared = run.some((a, i) => run.slice(i + 1).some((b) => agree(a, b) === true))
  return [{ kind: 'sweep', photos: run, sure: compared && stops >= 2 }]
}

/**
 * The glow lies where it lay, as far as it was found. The largest part found tells how large it is: beside
 * a clipped core, and in the dark, only a corner of it is found.
 */
function samePlace(run: readonly SortedLook[]): boolean {
  const places = run.flatMap(({ glow }) => (glow.kind === 'found' ? [glow.region] : []))
  const area = ({ width, height }: Region) => width * height
  const whole = places.reduce<Region | null>(
    (largest, one) => (largest && area(largest) >= area(one) ? largest : one),
    null,
  )
  if (!whole) return true
  return places.every(
    ({ x, y, width, height }) =>
      Math.abs(x + width / 2 - whole.x - whole.width / 2) < whole.width &&
      Math.abs(y + height / 2 - whole.y - whole.height / 2) < whole.height,
  )
}
