import { describe } from 'vitest'
import { simulateCamera } from '../../src/light/simulate/simulated-camera.ts'
import { seeded } from '../accuracy/random.ts'
import { dngOf, jpegOf, shoot } from '../light/raw-pair/scene.ts'
import { PHOTO_SETS, photoPath, readCamera, readTraining } from '../measured-data.ts'
import { expect, test } from './harness.ts'
import { chooser, practice, rangeOf, showHow } from './practice-kit.ts'

/** Ways to a camera made ready beside the usual one of ready-walk.test.ts. */
describe('a camera made ready', () => {
  test('a photo and the raw file of the same shot give the tone curve, which is kept', async ({
    visit,
  }) => {
    const camera = simulateCamera(readCamera('Canon_EOS-1Ds_Mark_III'), readTraining(), 'daylight')
    const bend = (light: number) => (light ** 1.25 * 1.3) / (1 + 0.3 * light ** 1.25)
    const curve = { kind: 'channel', bend } as const
    const random = seeded(5)
    const shot = shoot({ camera, curve, hottestK: 1173, coolestK: 850, room: 0.002, random })
    const jpeg = { name: 'shot.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(jpegOf(shot)) }
    const raw = { name: 'shot.dng', mimeType: '', buffer: Buffer.from(dngOf(shot, camera)) }
    const page = await visit('/')
    await chooser(page).setInputFiles([jpeg, raw])
    await page.getByText(/shot.dng gave the camera’s/).waitFor()
    const [low, high] = await rangeOf(page)
    expect(low).toBeLessThan(1173)
    expect(high).toBeGreaterThan(1173)
    // Put away and brought back, or reloaded, the raw file is still there.
    await page.getByRole('button', { name: 'New photo' }).click()
    await page.getByRole('button', { name: 'Undo' }).click()
    await page.getByText(/shot.dng gave the camera’s/).waitFor()
    await page.reload()
    await page.getByText(/shot.dng gave the camera’s/).waitFor()
    expect(await rangeOf(page)).toEqual([low, high])
    await page.getByRole('button', { name: 'Keep this tone curve for single photos' }).click()
    await page.getByRole('button', { name: 'Curve kept' }).waitFor()
    await page.getByRole('button', { name: 'New photo' }).click()
    // The photo alone is read by the kept curve.
    await chooser(page).setInputFiles([jpeg])
    await showHow(page)
    await page.getByText(/Undo the camera’s tone curve/).waitFor()
    const kept = await rangeOf(page)
    // What may change from one photo to the next is added: a little wider, in steps of 10 K.
    for (const [i, bound] of [low, high].entries()) {
      expect(Math.abs(kept[i]! - bound)).toBeLessThanOrEqual(10)
    }
  })

  test('a sweep that was refused takes the photos that it wants', async ({ visit }) => {
    const { files } = PHOTO_SETS.find(({ set }) => set === 'set1')!
    // A lock that is stated before any photo belongs to the camera of the first one.
    const page = await visit('/kit/ready/lock')
    await page.getByRole('button', { name: 'Locked on daylight' }).click()
    await page.getByRole('heading', { name: '2 of 4: Grey card' }).waitFor()
    await page.getByRole('link', { name: 'Reading', exact: true }).click()
    const frames = files.glow.filter(({ ev }) => ev <= -1).map(({ file }) => photoPath(file))
    await chooser(page).setInputFiles(frames[2]!)
    await page.getByText(/^With white balance locked on daylight/).waitFor()
    await page.getByText('Sweep this glow: which exposures').click()
    await page.getByText('1/100 s').first().waitFor()
    const more = page.locator('main:visible label', { hasText: 'Add photos' }).locator('input')
    await more.setInputFiles(frames.slice(0, 2))
    await page.getByText('Only 3 photos').waitFor()
    await more.setInputFiles(frames.slice(3))
    await page.getByText('The recovered tone curve').waitFor()
    await page.getByText(`${frames.length} photos,`).waitFor()
  })

  test('a camera that cannot be locked: the card in every picture, found again', async ({
    visit,
  }) => {
    const page = await visit('/kit/ready/lock')
    await page.getByRole('button', { name: 'It cannot be locked' }).click()
    await page.getByRole('button', { name: 'Card in every picture' }).click()
    await page.getByRole('heading', { name: '2 of 3: Grey card' }).waitFor()
    await page
      .locator('main:visible label', { hasText: 'Open a photo of both' })
      .locator('input')
      .setInputFiles(practice)
    // The card is seen where it lies; the frame is on it.
    await page.locator('button:enabled', { hasText: 'The card lies here' }).click()
    await page.getByRole('heading', { name: '3 of 3: Exposure sweep' }).waitFor()
    await page.getByRole('link', { name: 'Reading', exact: true }).click()
    await chooser(page).setInputFiles(practice)
    // Nothing is asked about white balance any more.
    await page.getByText(/^With grey card; automatic white balance/).waitFor()
    const [low, high] = await rangeOf(page)
    expect(low).toBeLessThan(1193)
    expect(high).toBeGreaterThan(1193)
  })
})
