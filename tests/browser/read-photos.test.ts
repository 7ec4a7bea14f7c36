import { copyFile, mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type Answer, readCases } from '../../scripts/read/read-cases.ts'
import { simulateCamera } from '../../src/light/simulate/simulated-camera.ts'
import { seeded } from '../accuracy/random.ts'
import { dngOf, jpegOf, shoot } from '../light/raw-pair/scene.ts'
import { PHOTO_SETS, photoPath, readCamera, readTraining } from '../measured-data.ts'

/** Photo cases from a folder, read by the app's own code in one browser. */

const [set] = PHOTO_SETS
const { files, glowTemperatureK } = set!
const grey = { lnGreenOverRed: 0, standardUncertainty: 0 }
const photo = {
  kind: 'photo',
  card: { file: files.card, light: 'daylight' },
  surface: grey,
  whiteBalance: 'daylight',
  camera: 'the one in hand',
}
const salt = { id: 'sodium-chloride', glow: ['salt.jpg'] }
const both = {
  kind: 'photo',
  camera: 'the one in hand',
  glow: ['shot.jpg'],
  knownHeats: [salt],
  surface: grey,
  whiteBalance: 'daylight',
}
/** A camera whose curve has a contrast of 1.25 and a shoulder, on each channel. */
const pictured = {
  camera: simulateCamera(readCamera('Canon_EOS-1Ds_Mark_III'), readTraining(), 'daylight'),
  curve: {
    kind: 'channel',
    bend: (light: number) => (light ** 1.25 * 1.3) / (1 + 0.3 * light ** 1.25),
  },
  room: 0.002,
  random: seeded(5),
} as const
const swept = (frames: typeof files.glow) => frames.map(({ file }) => file)

let folder: string
let answers: Map<string, Answer>

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'glowbook-'))
  for (const file of [files.card, ...swept(files.glow), ...swept(files.salt)]) {
    await copyFile(photoPath(file), join(folder, file))
  }
  await writeFile(join(folder, 'words.jpg'), 'no picture')
  for (const [name, kelvin] of [
    ['shot', 1173],
    ['salt', 1073.6],
  ] as const) {
    const taken = shoot({ ...pictured, hottestK: kelvin, coolestK: kelvin - 320 })
    await writeFile(join(folder, `${name}.jpg`), jpegOf(taken))
    await writeFile(join(folder, `${name}.dng`), dngOf(taken, pictured.camera))
  }
  const one = [files.glow[2]!.file]
  const cases = [
    { ...photo, id: 'single', glow: one },
    {
      ...photo,
      id: 'sweep',
      glow: swept(files.glow),
      knownHeats: [{ id: 'sodium-chloride', glow: swept(files.salt) }],
    },
    { ...both, id: 'pair', raw: 'shot.dng' },
    { ...both, id: 'all raw', glow: ['shot.dng'], knownHeats: [{ ...salt, glow: ['salt.dng'] }] },
    { ...both, id: 'raw alone', raw: 'shot.dng', knownHeats: [] },
    { ...photo, id: 'no picture', glow: ['words.jpg'] },
    { ...photo, id: 'no file', glow: ['absent.jpg'] },
    { ...photo, id: 'short sweep', glow: swept(files.glow.slice(1, 4)) },
    { ...photo, id: 'no such surface', glow: one, surface: 'cheese' },
    { ...photo, id: 'no such heat', glow: one, knownHeats: [{ id: 'cheese', glow: one }] },
  ]
  await writeFile(join(folder, 'cases.json'), JSON.stringify(cases))
  const list = await readCases(folder, (path) => import(join('../..', path)))
  answers = new Map(list.map((answer) => [answer.id, answer]))
}, 240_000)
afterAll(() => rm(folder, { recursive: true }))

describe('photo cases', () => {
  test('give the temperature with its interval, of one photo and of a sweep beside salt', () => {
    for (const id of ['single', 'sweep']) {
      const { temperatureK, low95K, high95K, refused } = answers.get(id)!
      expect(refused).toBeNull()
      expect(low95K!).toBeLessThan(temperatureK!)
      expect(low95K!).toBeLessThan(glowTemperatureK)
      expect(high95K!).toBeGreaterThan(glowTemperatureK)
    }
    const width = (id: string) => answers.get(id)!.high95K! - answers.get(id)!.low95K!
    expect(width('sweep')).toBeLessThan(width('single') / 5)
  })

  test('of a sweep that is refused are read by its best photo', () => {
    const { findings, low95K, high95K } = answers.get('short sweep')!
    expect(findings).toContainEqual(
      expect.objectContaining({ code: 'sweep refused', reason: 'too few frames' }),
    )
    expect(low95K!).toBeLessThan(glowTemperatureK)
    expect(high95K!).toBeGreaterThan(glowTemperatureK)
  })

  test('with a raw picture of the same shot are read by the curve that both give', () => {
    const { findings, low95K, high95K } = answers.get('pair')!
    expect(findings).toContainEqual(expect.objectContaining({ code: 'raw pair', kind: 'channel' }))
    expect(findings).not.toContainEqual({ code: 'tone curve unknown' })
    expect(low95K!).toBeLessThan(1173)
    expect(high95K!).toBeGreaterThan(1173)
  })

  test('with a raw picture and no other ordinary photo are read from the raw one', () => {
    for (const id of ['all raw', 'raw alone']) {
      const { low95K, high95K, findings } = answers.get(id)!
      expect(findings).not.toContainEqual({ code: 'tone curve unknown' })
      expect(low95K!).toBeLessThan(1173)
      expect(high95K!).toBeGreaterThan(1173)
    }
    expect(Math.abs(answers.get('all raw')!.temperatureK! - 1173)).toBeLessThan(15)
  })

  test('that cannot be read say why', () => {
    expect(answers.get('no picture')).toMatchObject({ refused: 'not a photo', temperatureK: null })
    expect(answers.get('no file')).toMatchObject({ refused: 'bad case' })
    expect(answers.get('no file')!.error).toContain('absent.jpg')
    expect(answers.get('no such heat')!.error).toMatch(/"cheese"; allowed: .*sodium-chloride/)
    expect(answers.get('no such surface')!.error).toMatch(/cheese; allowed: .*cavity/)
  })
})
