import { signal } from '@preact/signals'
import { describe, expect, test } from 'vitest'
import { NOTES } from '../../../src/session/draft.ts'
import { sortKit } from '../../../src/session/kit/sort-kit.ts'
import { recordToSave } from '../../../src/session/reading/open-record.ts'
import { openRawPair } from '../../../src/session/reading/raw-pair-model.ts'
import { createReadingModel } from '../../../src/session/reading/reading-model.ts'
import type { ReadingModel } from '../../../src/session/reading/reading-model-type.ts'
import { curveItem, emptyKit, toneCurve } from '../kit/items.ts'
import { BAR, madePhoto, madeSweep, openWorkers } from '../made-photos.ts'
import { begun, measured, readsMadePhotos, TAKEN, underTest } from './made-reading.ts'

readsMadePhotos()
const swept = (model: ReadingModel) =>
  expect.poll(() => model.sweep.value?.result.value?.kind).toBe('measured')

describe('several photos of one glow', () => {
  test('are a sweep, which gives the light and its own tone curve', async () => {
    const model = begun()
    await model.openSweep(madeSweep({ temperatureK: 1200 }))
    await swept(model)
    await measured(model)
    expect(model.curve.value).toMatchObject({ space: 'display-p3' })
    expect(model.input.value).toMatchObject({
      linearity: { kind: 'sweep', curveId: model.sweep.value?.id },
    })
    // A camera brightens each scene as it likes: the level is compared with no other photo.
    expect(model.input.value).not.toHaveProperty('level')
    expect(model.extremesK.value).toBeNull()
    const record = recordToSave(model, { takenAt: TAKEN })
    expect(record).toMatchObject({ method: 'sweep', result: { kind: 'temperature' } })
    expect(await underTest.photo()).toBeUndefined()
    model.dispose()
  })

  test('are held against the curve that the kit has of their camera, and of no other', async () => {
    const curveOf = (curveId: string) =>
      sortKit([curveItem('kept', toneCurve('display-p3'), { curveId })]).curves
    const keptBy = async (curveId: string) => {
      const model = createReadingModel(
        { ...emptyKit(), curves: signal(curveOf(curveId)) },
        underTest,
      )
      await model.openSweep(madeSweep({}, [0, -1, -2]))
      const { kept, checkOnly } = model.sweep.value!
      model.dispose()
      return [kept?.id, checkOnly]
    }
    expect(await keptBy('Made-up · phone · wide')).toEqual(['kept', true])
    expect(await keptBy('Another · phone')).toEqual([undefined, false])
  })

  test('grow by photos that are added: region and what was said of the stops stay', async () => {
    const model = begun()
    const unstated = { facts: { exposureSeconds: null } }
    const [first, ...others] = madeSweep(unstated, [0, -1, -2, -3])
    await model.open(first!, 'IMG_1.jpg')
    await model.addPhotos(others.slice(0, 2))
    const stops = () => model.sweep.value?.stops.value
    expect(stops()).toEqual([null, null, null])
    // Without exposures there is nothing to be found, and no waiting.
    expect(model.sweep.value?.progress.value).toBeNull()
    model.glow.setRegion({ ...BAR, width: 20 })
    model.sweep.value!.stops.value = [0, -1.5, -2]
    await model.addPhotos(others.slice(2))
    expect(stops()).toEqual([0, -1.5, -2, null])
    expect(model.glow.region.value).toEqual({ ...BAR, width: 20 })
    expect(model.openFiles()).toHaveLength(4)
    model.dispose()
  })

  test('leave the open photo alone where one of them cannot be read', async () => {
    const model = begun()
    await model.open(madePhoto({}), 'glow.jpg')
    await model.addPhotos([new File(['no picture'], 'list.txt')])
    expect(model.sweep.value).toBeNull()
    expect(model.openFiles().map(({ name }) => name)).toEqual(['glow.jpg'])
    expect(model.glow.refusal.value).not.toBeNull()
    model.dispose()
  })
})

describe('the raw picture of a shot', () => {
  test('comes to its photo, and back with it after a reload', async () => {
    const model = begun()
    const raw = madePhoto({ seed: 2 }, 'IMG_1.dng')
    await model.openPair(madePhoto({}, 'IMG_1.jpg'), raw)
    expect(model.pair.value?.rawFile).toBe(raw)
    await expect.poll(() => model.pair.value?.result.value).not.toBeNull()
    const photo = (await underTest.photo())!
    model.dispose()
    expect(openWorkers()).toBe(0)
    const after = begun()
    await after.resume(photo, await underTest.find(NOTES))
    expect(after.pair.value?.rawFile.name).toBe('IMG_1.dng')
    await after.clear()
    expect(after.pair.value).toBeNull()
    after.dispose()
  })

  test('that cannot be read is told by its name; the photo stays', async () => {
    const model = begun()
    await model.openPair(madePhoto({}, 'IMG_1.jpg'), new File(['none'], 'IMG_1.dng'))
    expect(model.pair.value).toBeNull()
    expect(model.glow.photo.value).not.toBeNull()
    expect(model.glow.refusal.value?.name).toBe('IMG_1.dng')
    model.dispose()
  })

  test('is let go where its photo was put away meanwhile, and nothing is said of it', async () => {
    for (const raw of [madePhoto({}, 'IMG_1.dng'), new File(['none'], 'IMG_1.dng')]) {
      const model = begun()
      await model.open(madePhoto({}, 'IMG_1.jpg'), 'IMG_1.jpg')
      const opening = openRawPair(model.glow, raw)
      model.glow.close()
      expect(await opening).toBeNull()
      expect(model.glow.refusal.value).toBeNull()
      model.dispose()
      expect(openWorkers()).toBe(0)
    }
  })

  test('alone is read in the channels of its camera', async () => {
    const model = begun()
    await model.open(madePhoto({ temperatureK: 1200 }, 'IMG_1.dng'), 'IMG_1.dng')
    await measured(model)
    expect(model.choices.value.balanceState.kind).toBe('raw')
    expect(model.input.value).toMatchObject({ channels: 'camera', linearity: { kind: 'raw' } })
    expect(recordToSave(model, { takenAt: TAKEN })?.method).toBe('raw')
    model.dispose()
  })
})
