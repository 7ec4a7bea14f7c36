import { signal } from '@preact/signals'
import { expect, test } from 'vitest'
import type { LookModel } from '../../../src/session/chart/look-model.ts'
import { createLiveBeside } from '../../../src/session/live/live-beside.ts'
import type { ControlRanges, LiveCamera } from '../../../src/sources/live/live-camera.ts'
import { madeControls } from '../../sources/live/made-camera.ts'

function beside(offers: ControlRanges) {
  const { controls } = madeControls({ offers, starts: { whiteBalanceMode: 'continuous' } })
  let closed = 0
  const camera = { ...controls, id: 'made-up stream', close: () => void closed++ }
  const looks = { live: signal(null) } as unknown as LookModel
  const use = createLiveBeside(camera as unknown as LiveCamera, looks)
  return { use, looks, closed: () => closed }
}

test('the chart shows the running camera as it is balanced now, and the kit’s again after it', async () => {
  const { use, looks, closed } = beside({
    whiteBalanceMode: ['continuous', 'manual'],
    colorTemperature: { min: 2500, max: 7500 },
  } as ControlRanges)
  expect(looks.live.value).toEqual({
    cameraId: 'made-up stream',
    balanceState: { kind: 'unknown', colourTemperatureK: null },
  })
  await use.lock()
  expect(use.locks.value?.whiteBalance).toBe('locked')
  expect(looks.live.value?.balanceState).toEqual({ kind: 'daylight', colourTemperatureK: 6500 })
  use.dispose()
  expect(looks.live.value).toBeNull()
  expect(closed()).toBe(1)
})

test('a camera that cannot be locked is shown as automatic', async () => {
  const { use, looks } = beside({})
  await use.lock()
  expect(looks.live.value?.balanceState.kind).toBe('automatic')
  use.dispose()
})
