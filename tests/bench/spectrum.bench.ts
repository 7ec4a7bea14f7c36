import { importBundled } from './bundled.ts'
import type { Bench, Figure } from './figure.ts'

/** CPU throttling that stands for a phone. */
const THROTTLE = 4

/** Temperatures from simulated spectra: how well they hold, and how long they take. */
export const bench: Bench = async ({ short }) => {
  const { timeSpectrum } = await importBundled<typeof import('../accuracy/spectrum-timing.ts')>(
    'tests/accuracy/spectrum-timing.ts',
  )
  const { samples, firstMs, medianMs, responseMs } = timeSpectrum(short ? 9 : 40)
  const counted = (ms: number) => ({ value: THROTTLE * ms, unit: 'ms', timed: true })
  const { runSpectrumBench } = await importBundled<typeof import('../accuracy/spectrum-bench.ts')>(
    'tests/accuracy/spectrum-bench.ts',
  )
  const { USUAL_CONDITIONS } = await importBundled<
    typeof import('../accuracy/spectrum-simulation.ts')
  >('tests/accuracy/spectrum-simulation.ts')
  /**
   * Departures of response and surface from the model, and the error that is then to be reached. Not in
   * the short form: a few draws say nothing.
   */
  const shapeErrors = short ? [] : [0, 0.01, 0.02]
  const runs = shapeErrors.map((shapeError) => ({
    of: `shape error ${100 * shapeError} %`,
    rmsPercent: shapeError === 0.02 ? 1.5 : 1,
    summaries: runSpectrumBench({
      draws: 40,
      conditions: { ...USUAL_CONDITIONS, shapeError },
    }).summaries,
  }))
  return [
    {
      name: `${samples} samples and dark, text to temperature, counted ${THROTTLE} times`,
      ...counted(medianMs),
      target: { atMost: 100 },
    },
    { name: 'the same through cold code, without a warm-up', ...counted(firstMs) },
    { name: 'response from a lamp’s spectrum', ...counted(responseMs) },
    ...runs.flatMap(({ of, rmsPercent, summaries }) =>
      summaries.flatMap(({ condition, pooled }): Figure[] => [
        {
          name: `${condition}, ${of}: error, rms`,
          value: pooled.rmsPercent,
          unit: '%',
          target: { atMost: rmsPercent },
        },
        {
          name: `${condition}, ${of}: coverage of 95 % intervals`,
          value: 100 * pooled.coverage95,
          unit: '%',
          target: { atLeast: 92 },
        },
        {
          name: `${condition}, ${of}: half-width over rms error`,
          value: pooled.halfWidthOverRms,
          unit: '',
          target: { atMost: 2.8 },
        },
      ]),
    ),
  ]
}
