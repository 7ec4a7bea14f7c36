/** Which cameras are tested, and what each is tested with: a locus that has never seen it. */
import { resolve } from 'node:path'
import {
  type DerivedCurves,
  locusOfCurves,
  ratioCurves,
} from '../../src/estimate/camera-locus/derive.ts'
import type { CameraLocus } from '../../src/estimate/camera-locus/types.ts'
import type { CameraSensitivity, TrainingSpectra } from '../../src/light/simulate/sensitivity.ts'
import { onceFor } from '../../src/numerics/once-for.ts'
import { CAMERAS_FOLDER, readCameras, readTraining } from '../measured-data.ts'

/** Fewer cameras than this make no locus. */
const LEAST_PRIOR = 10

export interface TestedCamera {
  readonly name: string
  readonly make: string
  readonly sensitivity: CameraSensitivity
  /** Derived without this camera. */
  readonly locus: CameraLocus
}

export type LeaveOut = 'camera' | 'make'

export interface TestSet {
  readonly cameras: readonly TestedCamera[]
  readonly training: TrainingSpectra
  /** How the loci came about, for the heading. */
  readonly priorNote: string
}

interface Known {
  readonly sensitivity: CameraSensitivity
  readonly curves: DerivedCurves
}

/**
 * The cameras of a folder, each with a locus of cameras that it is not among.
 *
 * The locus comes from the default folder without any camera that is also in the tested folder.
 * Where that leaves too few (the default folder itself, or a copy of it) one camera after the
 * other is left out, or all of its make.
 */
export function testSet(folder: string = CAMERAS_FOLDER, leave: LeaveOut = 'camera'): TestSet {
  const key = `${leave} ${resolve(folder)}`
  const set = MADE.get(key) ?? make(folder, leave)
  MADE.set(key, set)
  return set
}

/** Several tests ask for the same one; its curves take seconds. */
const MADE = new Map<string, TestSet>()

function make(folder: string, leave: LeaveOut): TestSet {
  const training = readTraining()
  const known = (sensitivity: CameraSensitivity): Known => ({
    sensitivity,
    curves: ratioCurves(sensitivity, training),
  })
  const tested = readCameras(resolve(folder))
  const pool = readCameras().map(known)
  const unseen = pool.filter(
    ({ sensitivity }) => !tested.some((camera) => sameCamera(camera, sensitivity)),
  )
  const about = { source: 'bench', licence: '' }
  if (unseen.length >= LEAST_PRIOR) {
    const locus = locusOfCurves(
      unseen.map(({ curves }) => curves),
      about,
    )
    return {
      training,
      cameras: tested.map((sensitivity) => ({ ...nameOf(sensitivity), sensitivity, locus })),
      priorNote: `locus of ${unseen.length} other cameras`,
    }
  }
  const all = [
    ...pool,
    ...tested.filter((camera) => !pool.some((k) => sameCamera(camera, k.sensitivity))).map(known),
  ]
  const cameras = tested.map((sensitivity) => {
    const others = all.filter((other) =>
      leave === 'make'
        ? other.sensitivity.make !== sensitivity.make
        : !sameCamera(sensitivity, other.sensitivity),
    )
    let locus: CameraLocus | null = null
    return {
      ...nameOf(sensitivity),
      sensitivity,
      get locus() {
        locus ??= locusOfCurves(
          others.map(({ curves }) => curves),
          about,
        )
        return locus
      },
    }
  })
  return { cameras, training, priorNote: `leaving out each ${leave}` }
}

const nameOf = ({ make, model }: CameraSensitivity) => ({ name: `${make} ${model}`, make })

const plain = (text: string) => text.toLowerCase().replace(/[^a-z0-9]/g, '')

const size = onceFor((camera: CameraSensitivity) => Math.hypot(...camera.values.flat()))

/** The same by name, or by its curves up to a factor. */
function sameCamera(a: CameraSensitivity, b: CameraSensitivity): boolean {
  if (plain(a.make) === plain(b.make) && plain(a.model) === plain(b.model)) return true
  const [p, q] = [size(a), size(b)]
  if (a.values.length !== b.values.length || !(p > 0 && q > 0)) return false
  return a.values.every((row, i) =>
    row.every((value, c) => Math.abs(value / p - b.values[i]![c as 0 | 1 | 2] / q) < 1e-6),
  )
}
