import { expect } from './harness.ts'
import { test } from './sources-harness.ts'

test('the practice photo is found, measured and estimated: its truth lies in the interval', async ({
  sourcesPage,
}) => {
  const page = await sourcesPage()
  const reading = await page.evaluate(async () => {
    const { blob, truth } = await sources.loadPracticePhoto()
    const photo = await sources.openPhoto(blob)
    const measured = await photo.measure(photo.proposal!)
    const card = await photo.measureGrey(truth.cardRegion, truth.lightOnCard)
    const balance = sources.balanceFromGrey({ card: card.card, light: truth.lightOnCard })
    const { facts, notes, proposal, space } = photo
    photo.close()
    const input = {
      glow: measured.glow,
      channels: 'display-p3',
      cameraToXyz: null,
      balance: { id: 'card', ...balance },
      balanceState: { kind: 'daylight', colourTemperatureK: null },
      quality: measured.quality,
      surface: { id: 'black', lnGreenOverRed: 0, standardUncertainty: 0 },
      window: null,
      cameraId: 'practice',
      // The practice camera renders colours as they are.
      faithfulColours: true,
      takenAt: null,
      references: [],
    } as const
    const { storedLevels } = measured
    return {
      truth,
      facts,
      notes,
      proposal,
      warnings: [...measured.findings, ...card.findings].map(({ code }) => code),
      single: sources.estimateGlow({
        ...input,
        linearity: { kind: 'single', curveId: 'practice', storedLevels, space },
      }),
      linear: sources.estimateGlow({ ...input, linearity: { kind: 'linear' } }),
    }
  })
  const { truth, proposal, single, linear } = reading
  expect(reading.facts).toMatchObject({ make: 'Simulated', whiteBalance: 'manual' })
  expect(reading.notes).toEqual([])
  expect(reading.warnings).toEqual([])
  // The proposal lies on the part of the bar that is at heat.
  expect(proposal?.x).toBeGreaterThan(450)
  expect(proposal!.x + proposal!.width).toBeLessThan(820)
  for (const estimate of [single, linear]) {
    if (estimate.kind !== 'temperature') throw new Error(`no temperature: ${estimate.kind}`)
    expect(estimate.interval95K[0]).toBeLessThan(truth.temperatureK)
    expect(estimate.interval95K[1]).toBeGreaterThan(truth.temperatureK)
  }
  // Without an unknown tone curve the mean camera is read within a third of its uncertainty.
  if (linear.kind !== 'temperature') throw new Error('no temperature')
  expect(Math.abs(linear.temperatureK - truth.temperatureK)).toBeLessThan(
    linear.standardUncertaintyK / 3,
  )
})
