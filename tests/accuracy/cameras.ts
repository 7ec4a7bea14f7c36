/** Which cameras are tested, and what each is tested with: a locus that has never seen it. */
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import {
  type CameraCurves,
  locusOfCurves,
  ratioCurves,
} from '../../src/estimate/camera-locus/derive.ts'
import type { CameraLocus } from '../../src/estimate/camera-locus/types.ts'
import {
  type CameraSensitivity,
  cameraFromJson,
  type TrainingSpectra,
  trainingFromJson,
} from '../../src/light/simulate/sensitivity.ts'

const SHARED = fileURLToPath(new URL('../../../shared/data/', import.meta.url))
export const DEFAULT_FOLDER = join(SHARED, 'camera-sensitivities')
const TRAINING_FILE = join(SHARED, 'training_spectral.json')

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
  readonly curves: CameraCurves
}

export const dataAtHand = (): boolean => existsSync(DEFAULT_FOLDER) && existsSync(TRAINING_FILE)

function readFolder(folder: string): CameraSensitivity[] {
  const files = readdirSync(folder)
    .filter((name) => name.endsWith('.json'))
    .sort()
  if (files.length === 0) throw new Error(`no .json files in ${folder}`)
  return files.map((name) => {
    try {
      return cameraFromJson(JSON.parse(readFileSync(join(folder, name), 'utf8')))
    } catch (error) {
      throw new Error(`${name}: ${(error as Error).message}`)
    }
  })
}

/**
 * The cameras of a folder, each with a locus of cameras that it is not among.
 *
 * The locus comes from the default folder without any camera that is also in the tested folder.
 * Where that leaves too few (the default folder itself, or a copy of it) one camera after the
 * other is left out, or all of its make.
 */
export function testSet(folder: string = DEFAULT_FOLDER, leave: LeaveOut = 'camera'): TestSet {
  if (!dataAtHand())
    throw new Error(`the bench needs the cameras and training spectra in ${SHARED}`)
  const training = trainingFromJson(JSON.parse(readFileSync(TRAINING_FILE, 'utf8')))
  const known = (sensitivity: CameraSensitivity): Known => ({
    sensitivity,
    curves: ratioCurves(sensitivity, training),
  })
  const tested = readFolder(resolve(folder))
  const pool = readFolder(DEFAULT_FOLDER).map(known)
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
    const locus = locusOfCurves(
      others.map(({ curves }) => curves),
      about,
    )
    return { ...nameOf(sensitivity), sensitivity, locus }
  })
  return { cameras, training, priorNote: `leaving out each ${leave}` }
}

const nameOf = ({ make, model }: CameraSensitivity) => ({ name: `${make} ${model}`, make })

const plain = (text: string) => text.toLowerCase().replace(/[^a-z0-9]/g, '')

/** The same by name, or by its curves up to a factor. */
function sameCamera(a: CameraSensitivity, b: CameraSensitivity): boolean {
  if (plain(a.make) === plain(b.make) && plain(a.model) === plain(b.model)) return true
  const size = (camera: CameraSensitivity) => Math.hypot(...camera.values.flat())
  const [p, q] = [size(a), size(b)]
  if (a.values.length !== b.values.length || !(p > 0 && q > 0)) return false
  return a.values.every((row, i) =>
    row.every((value, c) => Math.abs(value / p - b.values[i]![c as 0 | 1 | 2] / q) < 1e-6),
  )
}
