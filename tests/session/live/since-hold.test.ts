import { signal } from '@preact/signals'
import { expect, test } from 'vitest'
import { temperatureDifference } from '../../../src/estimate/difference.ts'
import type { LiveFigure } from '../../../src/estimate/live/live-line.ts'
import type { GlowInput } from '../../../src/estimate/types.ts'
import { createSinceHold } from '../../../src/session/live/since-hold.ts'
import { sinceHoldWords } from '../../../src/ui/words/live.ts'
import { reading, seen } from '../../estimate/inputs.ts'

const FIGURE: LiveFigure = {
  temperatureK: 1173,
  statisticalK: 1,
  systematicK: 60,
  expandedUncertaintyK: 120,
}

test('after a hold the live figure says how far it has moved, far surer than it stands', async () => {
  const held = signal(false)
  const figure = signal<LiveFigure | null>(FIGURE)
  let now: GlowInput = reading(seen(1150))
  const model = createSinceHold({
    held,
    figure,
    inputNow: () => now,
    bench: { difference: async ({ first, second }) => temperatureDifference(first, second) },
  })
  const settled = () => new Promise((resume) => setTimeout(resume, 0))
  await settled()
  // Nothing has been held yet.
  expect(model.difference.value).toBeNull()

  held.value = true
  now = reading(seen(1173))
  held.value = false
  await settled()
  const found = model.difference.value!
  expect(found.interval95K[0]).toBeGreaterThan(0)
  expect(found.interval95K[0]).toBeLessThan(23)
  expect(found.interval95K[1]).toBeGreaterThan(23)
  expect(found.interval95K[1] - found.interval95K[0]).toBeLessThan(20)
  expect(sinceHoldWords(found)).toMatch(/^\+2\d ± \d+ °C since the hold$/)
  expect(sinceHoldWords({ ...found, differenceK: 1, interval95K: [-3, 5] })).toBe(
    'As at the hold, within ± 5 °C',
  )

  // While held there is nothing to say, nor without a figure.
  held.value = true
  expect(model.difference.value).toBeNull()
  model.dispose()
})
