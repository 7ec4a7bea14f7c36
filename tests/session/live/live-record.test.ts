import { afterEach, describe, expect, test, vi } from 'vitest'
import { estimateGlow } from '../../../src/estimate/estimate-glow.ts'
import type { GlowInput } from '../../../src/estimate/types.ts'
import { firstResult } from '../../../src/log/schema/reading-schema.ts'
import { wholeCause } from '../../../src/log/statistics/shared-terms.ts'
import { livePicture, liveRecord } from '../../../src/session/live/live-record.ts'
import { closeTestLogs, openTestLog } from '../../log/opening.ts'
import { CARD_REGION, madeStream } from './made-stream.ts'

afterEach(closeTestLogs)

const labels = {
  object: ' Test bar ',
  series: null,
  now: new Date('2026-03-01T10:00:00Z'),
}

/** A live reading of a made-up stream as it lies in the log. */
async function logged(kind: 'camera' | 'practice', withCard: boolean) {
  const { model, camera, frames } = madeStream()
  Object.assign(camera, { kind, truthK: () => (kind === 'practice' ? 1273 : null) })
  if (withCard) model.setCard(CARD_REGION)
  await frames(20)
  const whole = await model.wholeEstimate()
  const log = await openTestLog()
  const { id } = await log.add(liveRecord(model, whole!, labels))
  const stored = await log.get(id)
  if (stored?.state !== 'sound') throw new Error(`the reading is ${stored?.state}`)
  return { reading: stored.reading, whole: whole! }
}

test('a practice reading lies in the log as practice and simulated, with its truth', async () => {
  const { reading } = await logged('practice', false)
  expect(reading).toMatchObject({ method: 'practice', simulated: true, object: 'Test bar' })
  expect(reading.notes).toContain('Simulated')
  expect(reading.details).toMatchObject({ simulatedTruthK: 1273 })
})

test('a reading of the camera lies in the log as live, not simulated, with its colour', async () => {
  const { reading } = await logged('camera', false)
  expect(reading).toMatchObject({ method: 'live', simulated: false, notes: '' })
  const [r, g, b] = reading.swatch!
  expect(r).toBeGreaterThan(g)
  expect(g).toBeGreaterThan(b)
})

test('what lies in the log gives the same temperature again, card and all', async () => {
  const { reading, whole } = await logged('camera', true)
  const input = reading.inputs as unknown as GlowInput
  expect(input.balance).toEqual(whole.input.balance)
  expect(reading.details).toMatchObject({ greyCard: { light: { illuminant: 'D65' } } })
  const again = estimateGlow(input)
  expect(again.kind).toBe('temperature')
  expect(reading.result).toMatchObject({
    kind: 'temperature',
    temperatureK: again.kind === 'temperature' ? again.temperatureK : 0,
  })
  const result = firstResult(reading)
  const budget = result.kind === 'temperature' ? result.budget : []
  const grey = budget.find(({ term }) => term === 'grey reference')
  expect(wholeCause(grey?.sharedBy ?? '')).toBe(`grey ${input.balance?.id}`)
})

describe('the small picture of a live reading', () => {
  const pictureOf = async (width: number, height: number) => {
    let drawn: number[] = []
    vi.stubGlobal('document', {
      createElement: () => ({
        getContext: () => ({
          drawImage: (_: unknown, ...place: number[]) => {
            drawn = place
          },
        }),
        toBlob: (done: (blob: Blob) => void) => done(new Blob(['jpeg'])),
      }),
    })
    const made = await livePicture({
      camera: { size: () => ({ width, height }), picture: {} },
    } as never)
    return made && [made.width, made.height, ...drawn.slice(2)]
  }

  test('keeps the shape of the stream, and is none the larger for a small one', async () => {
    const [width, height, ...drawn] = (await pictureOf(1920, 1080))!
    expect(width! / height!).toBeCloseTo(16 / 9, 2)
    expect(drawn).toEqual([width, height])
    expect(await pictureOf(160, 90)).toEqual([160, 90, 160, 90])
    expect(await pictureOf(1, 1)).toEqual([1, 1, 1, 1])
  })

  test('is none where the stream has no picture yet', async () => {
    expect(await pictureOf(0, 0)).toBeUndefined()
    expect(await pictureOf(1920, 1)).toBeUndefined()
    expect(await pictureOf(1, 1920)).toBeUndefined()
  })
})
