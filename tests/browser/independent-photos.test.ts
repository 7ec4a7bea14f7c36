import { describe } from 'vitest'
import { PHOTO_SETS, photoPath } from '../measured-data.ts'
import { expect, test } from './harness.ts'
import { showHow } from './practice-kit.ts'

/**
 * Photos from a renderer that shares no code with this project, with the truth beside them: measured
 * cameras, two kinds of tone curve, two JPEG qualities. The app as a person uses it: the glow photo,
 * the card photo, and the stated range must hold the truth.
 */

const kelvin = (celsius: string | undefined) => Number(celsius) + 273.15

describe('photos of an independent renderer', () => {
  for (const { set, glowTemperatureK, files } of PHOTO_SETS) {
    test(`${set}: the stated range holds the truth`, async ({ visit }) => {
      const page = await visit('/')
      // From bright to dark, as a person would turn the exposure down: the first frame that is read.
      for (const { file } of files.glow) {
        await page.locator('input[type=file]').nth(1).setInputFiles(photoPath(file))
        await page.locator('section.result_result').waitFor()
        await page.waitForFunction(() => !document.body.textContent?.includes('Measuring the glow'))
        if (await page.locator('.temperature').first().isVisible()) break
        const away = page.getByRole('button', { name: 'New photo' })
        await away.click()
        await away.waitFor({ state: 'detached' })
      }
      await showHow(page)
      await page.getByLabel('White balance of the photo').selectOption('daylight')
      await page.getByLabel('Surface').selectOption('cavity')
      await page
        .locator('label', { hasText: 'Open a photo of the card' })
        .locator('input')
        .setInputFiles(photoPath(files.card))
      await page.getByLabel('Light on the card').waitFor()
      await page.waitForFunction(
        () => !document.body.textContent?.includes('The camera’s white balance is taken on trust'),
      )
      const said = (await page.getByText(/19 times in 20/).textContent()) ?? ''
      const [low, high] = [...said.matchAll(/(-?\d+) °C/g)].map((match) => kelvin(match[1]))
      console.log(`${set}: ${low} to ${high} K, truth ${glowTemperatureK} K`)
      expect(low).toBeLessThanOrEqual(glowTemperatureK)
      expect(high).toBeGreaterThanOrEqual(glowTemperatureK)
    })
  }
})
