import { describe, expect, test, vi } from 'vitest'
import { middleRegion } from '../../../src/light/region-geometry.ts'
import {
  createPhotoSlot,
  saysFailure,
  showsPicture,
} from '../../../src/session/reading/photo-slot.ts'
import { NO_FACTS } from '../../../src/sources/files/photo-facts.ts'
import type { OpenOptions, Photo } from '../../../src/sources/photo/photo.ts'

const SIZE = { width: 40, height: 30 }
const PLACE = { shape: 'rectangle', x: 2, y: 2, width: 8, height: 8 } as const
const photo = (change: Partial<Photo> = {}) => {
  const close = vi.fn()
  const measure = async () => ({}) as never
  const made = { ...SIZE, facts: NO_FACTS, proposal: null, measure, close, ...change }
  return made as unknown as Photo & { readonly close: typeof close }
}

/** Opens when told to. */
function held() {
  let options: OpenOptions = {}
  let answer: (photo: Photo) => void = () => undefined
  let refuse: (error: unknown) => void = () => undefined
  const opener = (given: OpenOptions) => {
    options = given
    return new Promise<Photo>((resolve, reject) => {
      answer = resolve
      refuse = reject
    })
  }
  return {
    opener,
    progress: (share: number) => options.onProgress?.(share),
    aborted: () => options.signal?.aborted,
    answer: (of: Photo) => answer(of),
    refuse: (error: unknown) => refuse(error),
  }
}

describe('a photo that is opened', () => {
  test('says its name and how far it is, and then lies there with the place that is proposed', async () => {
    const slot = createPhotoSlot()
    const one = held()
    const opening = slot.openBy('glow.jpg', one.opener)
    expect(slot.opening.value).toEqual({ name: 'glow.jpg', progress: null })
    one.progress(0.4)
    expect(slot.opening.value).toEqual({ name: 'glow.jpg', progress: 0.4 })
    const opened = photo({ proposal: PLACE })
    one.answer(opened)
    expect(await opening).toBe(opened)
    expect([slot.photo.value, slot.region.value, slot.opening.value]).toEqual([opened, PLACE, null])
    slot.setRegion({ ...PLACE, x: 9 })
    expect(slot.region.value?.x).toBe(9)
  })

  test('without a proposal is looked at in its middle', async () => {
    const slot = createPhotoSlot()
    await slot.openBy('glow.jpg', async () => photo())
    expect(slot.region.value).toEqual(middleRegion(SIZE))
  })

  test('takes the place of the former one, which is closed, once it is sound', async () => {
    const slot = createPhotoSlot()
    const [first, second] = [photo(), photo()]
    await slot.openBy('one', async () => first)
    const broken = new Error('no picture')
    expect(await slot.openBy('two', () => Promise.reject(broken))).toBeNull()
    expect(slot.refusal.value).toEqual({ error: broken, name: 'two' })
    expect([slot.photo.value, slot.opening.value]).toEqual([first, null])
    expect(first.close).not.toHaveBeenCalled()
    const opening = slot.openBy('three', async () => second)
    expect(slot.refusal.value).toBeNull()
    await opening
    expect(slot.photo.value).toBe(second)
    expect(first.close).toHaveBeenCalledOnce()
    slot.close()
    expect(second.close).toHaveBeenCalledOnce()
    expect([slot.photo.value, slot.region.value, slot.marksUrl.value]).toEqual([null, null, null])
  })

  test('too late, cancelled or overtaken, is closed again, and nothing is said', async () => {
    const slot = createPhotoSlot()
    const stands = photo()
    await slot.openBy('stands', async () => stands)
    const [one, two] = [held(), held()]
    const first = slot.openBy('one', one.opener)
    const second = slot.openBy('two', two.opener)
    expect([one.aborted(), two.aborted()]).toEqual([true, false])
    one.progress(0.9)
    expect(slot.opening.value).toEqual({ name: 'two', progress: null })
    const late = photo()
    one.answer(late)
    expect(await first).toBeNull()
    expect(late.close).toHaveBeenCalledOnce()
    // The second is still being opened.
    expect(slot.opening.value?.name).toBe('two')
    slot.cancel()
    two.refuse(new DOMException('', 'AbortError'))
    expect(await second).toBeNull()
    expect([slot.photo.value, slot.refusal.value, slot.opening.value]).toEqual([stands, null, null])
  })
})

describe('what is said of an open photo', () => {
  test('changes its facts, and it is still the same picture', async () => {
    const slot = createPhotoSlot()
    slot.setFacts({ ...NO_FACTS, model: 'nobody' })
    expect(slot.photo.value).toBeNull()
    const of = photo()
    await slot.openBy('glow.jpg', async () => of)
    slot.setFacts({ ...NO_FACTS, model: 'Shop phone' })
    expect(slot.photo.value?.facts.model).toBe('Shop phone')
    expect(showsPicture(slot.photo.value, of)).toBe(true)
    expect([showsPicture(null, of), showsPicture(photo(), of)]).toEqual([false, false])
  })

  test('a failure is said under a name, of the photo where nothing else is named', async () => {
    const slot = createPhotoSlot()
    const of = photo()
    await slot.openBy('glow.jpg', async () => of)
    const error = new Error('died')
    expect(saysFailure(slot, of, error)).toBe(true)
    expect(slot.refusal.value).toEqual({ error, name: 'The photo' })
    saysFailure(slot, of, error, 'The sweep')
    expect(slot.refusal.value?.name).toBe('The sweep')
    slot.refusal.value = null
    expect(saysFailure(slot, of, new DOMException('', 'AbortError'))).toBe(false)
    expect(slot.refusal.value).toBeNull()
  })
})

describe('marks of what is clipped', () => {
  test('are shown of the photo that lies there, and of no other', async () => {
    vi.stubGlobal('requestAnimationFrame', (draw: () => void) => setTimeout(draw))
    const slot = createPhotoSlot()
    slot.showMarks()
    let release: (url: string) => void = () => undefined
    const marks = () =>
      new Promise<string>((resolve) => {
        release = resolve
      })
    const asked = vi.fn(marks)
    await slot.openBy('one', async () => photo({ marks: asked }))
    slot.showMarks()
    await expect.poll(() => asked.mock.calls.length).toBe(1)
    release('blob:one')
    await expect.poll(() => slot.marksUrl.value).toBe('blob:one')
    slot.showMarks()
    await expect.poll(() => asked.mock.calls.length).toBe(2)
    await slot.openBy('two', async () => photo({ marks: () => Promise.reject(new Error('died')) }))
    expect(slot.marksUrl.value).toBeNull()
    release('blob:late')
    slot.showMarks()
    await new Promise((resolve) => setTimeout(resolve, 20))
    expect(slot.marksUrl.value).toBeNull()
  })
})
