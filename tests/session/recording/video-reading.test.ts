import { signal } from '@preact/signals'
import { afterEach, describe, expect, test, vi } from 'vitest'
import { surfaceOf, windowOf } from '../../../src/session/reading/glow-input.ts'
import { regionOf } from '../../../src/session/recording/video-model.ts'
import type { VideoBench } from '../../../src/sources/video/video-client.ts'
import type { VideoCurve } from '../../../src/sources/video/video-operations.ts'
import { salt } from '../../estimate/inputs.ts'
import { closeTestLogs, openTestLog } from '../../log/opening.ts'
import { FACTS, FILM, filmCurve, madeFilm } from './made-up-film.ts'

afterEach(closeTestLogs)

const picture = () => ({ close: vi.fn() }) as unknown as ImageBitmap
/** Answers when told to. */
function held<T>() {
  let answer: (value: T) => void = () => undefined
  let refuse: (error: unknown) => void = () => undefined
  const answered = new Promise<T>((resolve, reject) => {
    answer = resolve
    refuse = reject
  })
  return { answered, answer, refuse }
}

describe('a film that is read', () => {
  test('is read by what was said of it and what the kit knows of its camera', async () => {
    const leakTests = [{ test: 'hot plate', seen: false }]
    const cameras = signal([
      { data: { device: 'another', leakTests: [] } },
      { data: { device: 'Made-up · phone', leakTests } },
    ])
    const { model, readings } = madeFilm({}, {
      kit: { references: signal([salt()]), cameras },
    } as never)
    await model.open(FILM)
    await model.read()
    // Nothing was said: a surface that nobody knows, nothing in front, no lock, the whole picture.
    expect(readings[0]).toMatchObject({
      file: FILM,
      region: null,
      settings: {
        channels: 'display-p3',
        balanceState: { kind: 'unknown', colourTemperatureK: null },
        surface: surfaceOf(''),
        window: null,
        cameraId: 'video avc 64x36',
        references: [salt()],
        leakTests: [],
      },
      curve: { id: 'video avc 64x36 stream', recovered: null },
    })
    model.fixed.value = { x: 0.5, y: 0.5 }
    model.choices.value = {
      ...model.choices.peek(),
      materialId: 'cavity',
      cover: 'glass',
      balanceState: 'locked',
      device: 'Made-up · phone',
    }
    await model.read()
    expect(readings[1]).toMatchObject({
      region: regionOf({ x: 0.5, y: 0.5 }, FACTS),
      settings: {
        balanceState: { kind: 'locked' },
        surface: surfaceOf('cavity'),
        window: windowOf('glass'),
        leakTests,
      },
    })
  })

  test('says how far it is and how long it takes, and stands in the log at its end', async () => {
    const log = await openTestLog()
    const reading = held<VideoCurve>()
    let tell: (share: number) => void = () => undefined
    const read: VideoBench['read'] = (_, progress) => {
      tell = progress
      return reading.answered
    }
    const { model, readings } = madeFilm({ read }, { log: Promise.resolve(log) })
    await model.open(FILM)
    let ms = 1000
    vi.spyOn(performance, 'now').mockImplementation(() => ms)
    const done = model.read()
    expect([model.progress.value, model.secondsLeft.value]).toEqual([0, null])
    ms += 3000
    tell(0.01)
    // Too early to tell from.
    expect([model.progress.value, model.secondsLeft.value]).toEqual([0.01, null])
    tell(0.25)
    expect([model.progress.value, model.secondsLeft.value]).toEqual([0.25, 9])
    // One at a time: neither another reading nor another place.
    expect(await model.read()).toBeNull()
    await model.pauseAt(3)
    expect([readings.length, model.paused.value]).toEqual([1, 0])
    reading.answer(filmCurve())
    const id = await done
    expect((await log.recordings.get(id!))?.head).toMatchObject({ source: 'video', object: 'melt' })
    expect([model.progress.value, model.secondsLeft.value]).toEqual([null, null])
  })

  test('leaves nothing where it was stopped, and says what it failed with where it was not', async () => {
    const reading = held<VideoCurve>()
    let tell: (share: number) => void = () => undefined
    const { model, closed } = madeFilm({
      read: (_, progress) => {
        tell = progress
        return reading.answered
      },
    })
    await model.open(FILM)
    const done = model.read()
    model.cancel()
    expect([model.progress.value, closed()]).toEqual([null, 1])
    tell(0.5)
    expect(model.progress.value).toBeNull()
    reading.refuse(new DOMException('', 'AbortError'))
    expect(await done).toBeNull()
    expect(model.failure.value).toBeNull()
    const broken = new Error('decoder lost')
    const failing = madeFilm({ read: () => Promise.reject(broken) })
    expect(await failing.model.read()).toBeNull()
    expect(failing.opened).toEqual([])
    await failing.model.open(FILM)
    expect(await failing.model.read()).toBeNull()
    expect([failing.model.failure.value, failing.model.progress.value]).toEqual([broken, null])
  })
})

describe('another film', () => {
  test('takes the place of the one before with all that was shown of it', async () => {
    const [first, second] = [picture(), picture()]
    const pictures = [first, second]
    const { model, closed } = madeFilm({ preview: async () => pictures.shift() ?? null })
    await model.open(FILM)
    expect([model.preview.value, model.facts.value]).toEqual([first, FACTS])
    await model.pauseAt(4)
    expect([model.preview.value, model.paused.value]).toEqual([second, 4])
    expect(first.close).toHaveBeenCalledOnce()
    model.fixed.value = { x: 0, y: 0 }
    const next = new File([], 'pour.mov')
    const opening = model.open(next)
    const shown = [model.facts, model.preview, model.failure, model.fixed, model.progress]
    expect(shown.map(({ value }) => value)).toEqual([null, null, null, null, null])
    expect([model.file.value, model.paused.value]).toEqual([next, 0])
    expect(second.close).toHaveBeenCalledOnce()
    await opening
    expect(closed()).toBe(1)
    model.dispose()
    expect(closed()).toBe(2)
  })

  test('is not overtaken by what is still said of the one before', async () => {
    const facts = held<typeof FACTS>()
    const answers = [facts.answered, Promise.resolve({ ...FACTS, codec: 'hevc' })]
    const { model } = madeFilm({ facts: () => answers.shift()! })
    const first = model.open(FILM)
    await model.open(new File([], 'pour.mov'))
    facts.answer(FACTS)
    await first
    expect(model.facts.value?.codec).toBe('hevc')
  })

  test('that cannot be opened says why, and is neither read nor photographed', async () => {
    const broken = new Error('no film')
    const { model } = madeFilm({ facts: () => Promise.reject(broken) })
    expect(await model.still()).toBeNull()
    await model.pauseAt(2)
    expect(model.paused.value).toBe(0)
    await model.open(FILM)
    expect([model.failure.value, model.facts.value]).toEqual([broken, null])
    expect([await model.still(), await model.read()]).toEqual([null, null])
  })
})

describe('a place in a film', () => {
  test('that was left before its picture came is not shown', async () => {
    const [late, last] = [held<ImageBitmap>(), picture()]
    const pictures = [Promise.resolve(null), late.answered, Promise.resolve(last)]
    const { model } = madeFilm({ preview: () => pictures.shift()! })
    await model.open(FILM)
    const first = model.pauseAt(2)
    await model.pauseAt(3)
    const left = picture()
    late.answer(left)
    await first
    expect(model.preview.value).toBe(last)
    expect(left.close).toHaveBeenCalledOnce()
    expect(last.close).not.toHaveBeenCalled()
  })

  test('that cannot be shown is told, one that was overtaken is not', async () => {
    const broken = new Error('no picture there')
    const errors = [new DOMException('', 'AbortError'), broken]
    let first = true
    const { model } = madeFilm({
      preview: async () => {
        if (!first) throw errors.shift()
        first = false
        return null
      },
    })
    await model.open(FILM)
    await model.pauseAt(2)
    expect(model.failure.value).toBeNull()
    await model.pauseAt(3)
    expect(model.failure.value).toBe(broken)
  })

  test('is photographed under the name of its film and its second', async () => {
    const asked: number[] = []
    const still: VideoBench['still'] = async (_, seconds) => {
      asked.push(seconds)
      return new Blob(['picture'], { type: 'image/tiff' })
    }
    const { model } = madeFilm({ still })
    await model.open(new File([], 'melt.of.copper.mp4'))
    await model.pauseAt(12.34)
    const found = await model.still()
    expect([found?.name, found?.type]).toEqual(['melt.of.copper 12.3 s.tif', 'image/tiff'])
    expect(asked).toEqual([12.34])
  })
})
