import { uvPrimeFromXy } from '../../colour/chromaticity.ts'
import { SPECTRUM_METHOD_VERSION } from '../../estimate/spectrum/method-version.ts'
import type { SpectrumInput, SpectrumTemperature } from '../../estimate/spectrum/temperature.ts'
import type { SpectrumTerm } from '../../estimate/spectrum/types.ts'
import { deviceZone, momentOf } from '../../log/schema/moment.ts'
import type { Json, NewReading, Result } from '../../log/schema/types.ts'

/** What readings may have in common, so that they err together. */
interface Causes {
  readonly responseId: string
  readonly materialId: string
  readonly cover: string
  /** Of the table by which the window is known; null for one of the list. */
  readonly tableName: string | null
}

interface Parts extends Causes {
  readonly input: SpectrumInput
  readonly result: SpectrumTemperature
  readonly fileName: string
  readonly simulated: boolean
  readonly truthK: number | null
  readonly object: string
  readonly notes: string
  readonly now: Date
}

/** A table's name is a file's: it may be long. */
const NAME_LENGTH = 150

/** Which cause a term of the budget shares with other readings: they then err together. */
function sharedBy(term: SpectrumTerm, causes: Causes): string | null {
  const { responseId, materialId, cover, tableName } = causes
  switch (term) {
    case 'lamp temperature':
    case 'stray light':
    case 'wavelength scale':
    case 'linearity':
    case 'reference surface':
    case 'another instrument':
    case 'references':
    case 'shape of response and surface':
      return `response ${responseId}`
    case 'surface':
      return `surface ${materialId}`
    case 'window':
      return `window ${cover}${tableName === null ? '' : ` ${tableName.slice(0, NAME_LENGTH)}`}`
    case 'noise':
      return null
  }
}

/** The result as the log keeps it. */
export function spectrumResult(found: SpectrumTemperature, causes: Causes): Result {
  const { temperatureK, standardUncertaintyK, interval95K, budget } = found
  return {
    kind: 'temperature',
    temperatureK,
    standardUncertaintyK,
    expandedUncertaintyK: 2 * standardUncertaintyK,
    interval95K: [...interval95K],
    budget: budget.map(({ term, standardUncertaintyK: contributionK }) => ({
      term,
      contributionK,
      sharedBy: sharedBy(term, causes),
    })),
    methodVersion: SPECTRUM_METHOD_VERSION,
  }
}

/** What explains a result; columns are left out, since the inputs give them again. */
export function spectrumDetails(found: SpectrumTemperature) {
  const { corrected: _, residuals: __, wien, ...told } = found
  return {
    ...told,
    wien: wien && {
      line: wien.line,
      temperatureK: wien.temperatureK,
      standardUncertaintyK: wien.standardUncertaintyK,
    },
  }
}

/** A reading as the log keeps it: the result, and everything needed to compute it again. */
export function spectrumRecord(parts: Parts): NewReading {
  const { input, result, responseId, tableName, now } = parts
  return {
    method: 'spectrum',
    simulated: parts.simulated,
    takenAt: momentOf(now, deviceZone()),
    result: spectrumResult(result, parts),
    object: parts.object.trim(),
    notes: parts.notes.trim(),
    material: parts.materialId,
    cover: parts.cover,
    chromaticity: chromaticityOf(result.chromaticity),
    inputs: { ...input, responseId, tableName } as unknown as Json,
    details: {
      ...spectrumDetails(result),
      fileName: parts.fileName,
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
