import { expect, test } from 'vitest'
import { regionOf } from '../../../src/session/recording/video-model.ts'
import { VideoRefused } from '../../../src/sources/video/video-refused.ts'
import { FACTS, FILM, madeFilm } from './made-up-film.ts'

test('a film that was stopped is still known to be played, not decoded', async () => {
  const { model, opened } = madeFilm({ still: async () => new Blob(['picture']) })
  await model.open(FILM)
  model.cancel()
  expect((await model.still())?.name).toBe('melt 0.0 s.tif')
  expect(opened).toEqual([null, FACTS])
})

test('a picture that cannot be decoded is said', async () => {
  const { model } = madeFilm()
  await model.open(FILM)
  expect(await model.still()).toBeNull()
  expect(model.failure.value).toMatchObject({ refusal: { code: 'codec', codec: 'avc' } })
})

test('a film whose first picture cannot be shown is refused whole, not offered to be read', async () => {
  const { model } = madeFilm({
    preview: async () => {
      throw new VideoRefused({ code: 'codec', codec: 'hevc' })
    },
  })
  await model.open(FILM)
  expect(model.facts.value).toBeNull()
  expect(model.failure.value).toMatchObject({ refusal: { codec: 'hevc' } })
})

test('slow motion is read in the time of the real thing, ten readings of its seconds', async () => {
  const { model, readings } = madeFilm()
  await model.open(FILM)
  await model.read()
  model.choices.value = { ...model.choices.peek(), slowedBy: 8 }
  await model.read()
  // 240 pictures a second played at 30: a second of the real thing lasts eight.
  expect(readings).toMatchObject([
    { captureSeconds: 1, perSecond: 10 },
    { captureSeconds: 1 / 8, perSecond: 80 },
  ])
})

test('a place that is asked for before the first picture came leaves the film open', async () => {
  let overtake: (error: unknown) => void = () => undefined
  const first = new Promise<null>((_, reject) => {
    overtake = reject
  })
  const pictures = [first, Promise.resolve(null)]
  const { model } = madeFilm({ preview: () => pictures.shift()! })
  const opening = model.open(FILM)
  await expect.poll(() => model.facts.value).not.toBeNull()
  const pausing = model.pauseAt(9)
  // As the bench does: the later place takes the earlier one's turn.
  overtake(new DOMException('a later place', 'AbortError'))
  await Promise.all([opening, pausing])
  expect(model.facts.value).toEqual(FACTS)
  expect(model.failure.value).toBeNull()
  expect(model.paused.value).toBe(9)
})

test('a place in a film held upright is read where it lies in the stored picture', () => {
  // 800 x 400 stored; by a quarter turn it is shown 400 x 800.
  const middle = (rotation: number) => {
    const [width, height] = rotation % 180 === 90 ? [400, 800] : [800, 400]
    const region = regionOf({ x: 0.1, y: 0.2 }, { width, height, rotation })
    return [region!.x + region!.width / 2, region!.y + region!.height / 2].map(Math.round)
  }
  // Turned clockwise to be shown: the stored left edge is then the top.
  expect([0, 90, 180, 270].map(middle)).toEqual([
    [80, 80],
    [160, 360],
    [720, 320],
    [640, 40],
  ])
})

test('the square that a place of a film is read by: an eighth of its height, 96 pixels at most', () => {
  const at = (x: number, y: number, width: number, height: number) =>
    regionOf({ x, y }, { width, height, rotation: 0 })!
  expect(at(0.5, 0.5, 800, 400)).toMatchObject({ width: 48, height: 48 })
  expect(at(0.5, 0.5, 3840, 2160)).toMatchObject({ width: 96, height: 96 })
  // At the edge it stays inside whole.
  expect(at(0, 1, 800, 400)).toMatchObject({ x: 0, y: 352, width: 48 })
})

test('an hour is read ten times a second; a longer film is thinned to as many readings', async () => {
  const perSecond = async (durationSeconds: number) => {
    const { model, readings } = madeFilm({ facts: async () => ({ ...FACTS, durationSeconds }) })
    await model.open(FILM)
    await model.read()
    return readings[0]!.perSecond
  }
  expect(await perSecond(3590)).toBe(10)
  for (const seconds of [3700, 7200, 36_000]) {
    const rate = await perSecond(seconds)
    expect(rate).toBeLessThan(10)
    expect(rate * seconds).toBeCloseTo(36_000, 0)
  }
})
