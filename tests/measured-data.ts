/** The measured cameras, spectra and photos that tests/data carries; its README names the sources. */
import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import {
  type CameraSensitivity,
  cameraFromJson,
  type TrainingSpectra,
  trainingFromJson,
} from '../src/light/simulate/sensitivity.ts'

const data = (path: string) => fileURLToPath(new URL(`data/${path}`, import.meta.url))
const json = (file: string): unknown => JSON.parse(readFileSync(file, 'utf8'))

export const CAMERAS_FOLDER = data('camera-sensitivities')

/** Every camera of a folder of JSON files in the form of the rawtoaces data, by file name. */
export function readCameras(folder: string = CAMERAS_FOLDER): CameraSensitivity[] {
  const files = readdirSync(folder)
    .filter((name) => name.endsWith('.json'))
    .sort()
  if (files.length === 0) throw new Error(`no .json files in ${folder}`)
  return files.map((name) => {
    try {
      return cameraFromJson(json(`${folder}/${name}`))
    } catch (error) {
      throw new Error(`${name}: ${(error as Error).message}`)
    }
  })
}

/** One camera by the start of its file's name, up to `_380`. */
export function readCamera(name: string): CameraSensitivity {
  return cameraFromJson(json(`${CAMERAS_FOLDER}/${name}_380_780_5.json`))
}

export function readTraining(): TrainingSpectra {
  return trainingFromJson(json(data('training_spectral.json')))
}

/** The published 1 nm table of the CIE 1931 2° observer: rows of nm, x, y, z. */
export function readObserver(): (readonly [nm: number, x: number, y: number, z: number])[] {
  return readFileSync(data('observer-1931-1nm.csv'), 'utf8')
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => line.split(',').map(Number) as [number, number, number, number])
}

/** A photo that was exposed by so many stops more than the brightest of its sweep. */
export interface RenderedPhoto {
  readonly file: string
  readonly ev: number
}

/** What is true of a set of photos rendered by a program that shares no code with this project. */
export interface PhotoSet {
  readonly set: string
  readonly camera: string
  readonly glowTemperatureK: number
  readonly saltTemperatureK: number
  readonly toneCurve: { readonly kind: 'channel' | 'ratio' | 'none' }
  readonly jpegQuality: number
  readonly chromaSubsampling: string
  readonly files: {
    readonly card: string
    readonly glow: readonly RenderedPhoto[]
    readonly salt: readonly RenderedPhoto[]
  }
}

export const PHOTO_SETS = json(data('photos/truth.json')) as readonly PhotoSet[]

/** Path of a photo named in a {@link PhotoSet}. */
export const photoPath = (file: string) => data(`photos/${file}`)

export interface LightSpectrum {
  readonly name: string
  readonly kind: string
  readonly wavelengthNm: readonly number[]
  readonly power: readonly number[]
  readonly source: string
}

/** Spectra of lamps, daylight and tubes, relative. */
export function readLights(): readonly LightSpectrum[] {
  return json(data('spectra/lights.json')) as readonly LightSpectrum[]
}
