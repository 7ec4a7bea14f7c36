import { copyFile, mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type Answer, readCases } from '../../scripts/read/read-cases.ts'
import { PHOTO_SETS, photoPath } from '../measured-data.ts'

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
const swept = (frames: typeof files.glow) => frames.map(({ file }) => file)

let folder: string
let answers: Map<string, Answer>

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'glowbook-'))
  for (const file of [files.card, ...swept(files.glow), ...swept(files.salt)]) {
    await copyFile(photoPath(file), join(folder, file))
  }
  await writeFile(join(folder, 'words.jpg'), 'no picture')
  const one = [files.glow[2]!.file]
  const cases = [
    { ...photo, id: 'single', glow: one },
    {
      ...photo,
      id: 'sweep',
      glow: swept(files.glow),
      knownHeats: [{ id: 'sodium-chloride', glow: swept(files.salt) }],
    },
    { ...photo, id: 'no picture', glow: ['words.jpg'] },
    { ...photo, id: 'no file', glow: ['absent.jpg'] },
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

  test('that cannot be read say why', () => {
    expect(answers.get('no picture')).toMatchObject({ refused: 'not-a-photo', temperatureK: null })
    expect(answers.get('no file')).toMatchObject({ refused: 'bad case' })
    expect(answers.get('no file')!.error).toContain('absent.jpg')
    expect(answers.get('no such heat')!.error).toContain('cheese')
  })
})
