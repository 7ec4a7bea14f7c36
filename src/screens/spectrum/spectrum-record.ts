import { uvPrimeFromXy } from '../../colour/chromaticity.ts'
import { SPECTRUM_METHOD_VERSION } from '../../estimate/spectrum/method-version.ts'
import type { SpectrumInput, SpectrumTemperature } from '../../estimate/spectrum/temperature.ts'
import type { SpectrumTerm } from '../../estimate/spectrum/types.ts'
import { deviceZone, momentOf } from '../../log/moment.ts'
import type { Json, NewReading } from '../../log/types.ts'

interface Parts {
  readonly input: SpectrumInput
  readonly result: SpectrumTemperature
  readonly responseId: string
  readonly materialId: string
  readonly cover: string
  readonly fileName: string
  /** Of the table by which the window is known; null for one of the list. */
  readonly tableName: string | null
  readonly simulated: boolean
  readonly truthK: number | null
  readonly object: string
  readonly notes: string
  readonly now: Date
}

/** Which cause a term of the budget shares with other readings: they then err together. */
function sharedBy(term: SpectrumTerm, parts: Parts): string | null {
  const { responseId, materialId, cover, tableName } = parts
  switch (term) {
    case 'lamp temperature':
    case 'stray light':
    case 'wavelength scale':
    case 'linearity':
      return `response ${responseId}`
    case 'surface':
      return `surface ${materialId}`
    case 'window':
      return `window ${tableName === null ? cover : `${cover} ${tableName}`.slice(0, 150)}`
    case 'noise':
      return null
  }
}

/** A reading as the log keeps it: the result, and everything needed to compute it again. */
export function spectrumRecord(parts: Parts): NewReading {
  const { input, result, now } = parts
  const { chromaticity } = result
  // Columns can be computed again from the inputs.
  const { corrected: _, residuals: __, wien, ...told } = result
  return {
    method: 'spectrum',
    simulated: parts.simulated,
    takenAt: momentOf(now, deviceZone()),
    result: {
      kind: 'temperature',
      temperatureK: result.temperatureK,
      standardUncertaintyK: result.standardUncertaintyK,
      expandedUncertaintyK: 2 * result.standardUncertaintyK,
      interval95K: [...result.interval95K],
      budget: result.budget.map(({ term, standardUncertaintyK }) => ({
        term,
        contributionK: standardUncertaintyK,
        sharedBy: sharedBy(term, parts),
      })),
      methodVersion: SPECTRUM_METHOD_VERSION,
    },
    object: parts.object.trim(),
    notes: parts.notes.trim(),
    material: parts.materialId,
    cover: parts.cover,
    chromaticity: chromaticityOf(chromaticity),
    inputs: { ...input, responseId: parts.responseId } as unknown as Json,
    details: {
      ...told,
      wien: wien && {
        line: wien.line,
        temperatureK: wien.temperatureK,
        standardUncertaintyK: wien.standardUncertaintyK,
      },
      fileName: parts.fileName,
      tableName: parts.tableName,
      simulatedTruthK: parts.truthK,
    } as unknown as Json,
  }
}

function chromaticityOf(check: SpectrumTemperature['chromaticity']) {
  if (check.kind !== 'chromaticity') return null
  const { xy, cctK, duv } = check
  const { uPrime, vPrime } = uvPrimeFromXy(xy)
  return { x: xy.x, y: xy.y, u: uPrime, v: vPrime, cctK, duv }
}
