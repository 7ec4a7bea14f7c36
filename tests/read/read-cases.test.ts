import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Answer, readCases } from '../../scripts/read/read-cases.ts'
import {
  INSTRUMENTS,
  planck,
  SimulatedDay,
  seededRandom,
  USUAL_CONDITIONS,
  writtenAsText,
} from '../accuracy/spectrum-simulation.ts'

let folder: string
let answers: Map<string, Answer>

const reference = [
  {
    file: 'ref.csv',
    dark: 'ref-dark.csv',
    temperatureK: 2700,
    standardUncertaintyK: 5,
    emitter: 'black body',
  },
]
const glow = { file: 'glow.csv', dark: 'glow-dark.csv' }
const good = { id: 'kiln', kind: 'spectrum', reference, glow, surface: 'cavity' }

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'glowbook-'))
  const day = new SimulatedDay(INSTRUMENTS[0]!, USUAL_CONDITIONS, seededRandom(3))
  const recordings = { ref: day.record(planck(2700)), glow: day.record(planck(1400)) }
  for (const [name, { spectrum, dark }] of Object.entries(recordings)) {
    await writeFile(join(folder, `${name}.csv`), writtenAsText(spectrum))
    await writeFile(join(folder, `${name}-dark.csv`), writtenAsText(dark!))
  }
  await writeFile(join(folder, 'words.csv'), 'no numbers here\n')
  const cases = [
    good,
    { ...good, id: 'own slope', surface: { lnGreenOverRed: 0, standardUncertainty: 0.03 } },
    { ...good, id: 'words', glow: { file: 'words.csv' } },
    { ...good, id: 'no response', reference: null },
    { ...good, id: 'no file', glow: { file: 'absent.csv' } },
    { ...good, id: 'no surface', surface: 'cheese' },
    { id: 'other kind', kind: 'thermometer' },
    7,
  ]
  await writeFile(join(folder, 'cases.json'), JSON.stringify(cases))
  const list = await readCases(folder, (path) => import(join('../..', path)))
  answers = new Map(list.map((one) => [one.id, one]))
})
afterAll(() => rm(folder, { recursive: true }))

describe('cases read from a folder', () => {
  it('give the temperature with its interval', () => {
    for (const id of ['kiln', 'own slope']) {
      const { temperatureK, low95K, high95K, refused } = answers.get(id)!
      expect(refused).toBeNull()
      expect(low95K!).toBeLessThan(1400)
      expect(high95K!).toBeGreaterThan(1400)
      expect(Math.abs(temperatureK! - 1400)).toBeLessThan(20)
    }
  })

  it('are refused by the code of the refusal', () => {
    expect(answers.get('words')).toMatchObject({
      refused: 'import: no numbers',
      temperatureK: null,
    })
    expect(answers.get('no response')).toMatchObject({ refused: 'no response' })
  })

  it('say what is wrong with a case that cannot be put', () => {
    expect(answers.get('no file')).toMatchObject({ refused: 'bad case' })
    expect(answers.get('no file')!.error).toContain('absent.csv')
    expect(answers.get('no surface')!.error).toMatch(/cheese; allowed: .*cavity/)
    expect(answers.get('other kind')!.error).toMatch(/kind: .*"spectrum" \| "photo"/)
    // The last case has no id: its place stands for it.
    expect(answers.get('7')!.error).toContain('case')
    expect(answers.size).toBe(8)
  })
})
