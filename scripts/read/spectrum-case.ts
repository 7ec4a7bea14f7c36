import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import * as v from 'valibot'
import { responseFromReference } from '../../src/estimate/spectrum/reference-response.ts'
import { surfaceFromMaterial } from '../../src/estimate/spectrum/surface.ts'
import { temperatureFromSpectrum } from '../../src/estimate/spectrum/temperature.ts'
import {
  type InstrumentResponse,
  type Recording,
  type SpectrumLamp,
  type SpectrumSurface,
  USUAL_INSTRUMENT,
} from '../../src/estimate/spectrum/types.ts'
import { importSpectra } from '../../src/light/spectrum-import/import-spectra.ts'
import { lightQuantity } from '../../src/light/spectrum-import/quantity.ts'
import type { Spectrum } from '../../src/light/spectrum-import/spectrum.ts'
import { isDarkName, NO_ROLES, proposeRoles } from '../../src/session/spectrum/pick-roles.ts'
import { decodeText } from '../../src/sources/spectrum/decode-text.ts'
import { spectrumRefusalNotice } from '../../src/ui/words/no-glow.ts'
import { emitterId, surfaceId } from './case-names.ts'
import { type Answer, type CaseReader, NO_FIGURE } from './read-cases.ts'

const recorded = { file: v.string(), dark: v.optional(v.string()) }
const positive = v.pipe(v.number(), v.finite(), v.gtValue(0))
const uncertainty = v.pipe(v.number(), v.finite(), v.minValue(0))

const spectrumCase = v.object({
  reference: v.nullable(
    v.array(
      v.object({
        ...recorded,
        temperatureK: positive,
        standardUncertaintyK: uncertainty,
        emitter: emitterId,
      }),
    ),
  ),
  glow: v.object(recorded),
  surface: v.union([
    surfaceId,
    v.object({ lnGreenOverRed: v.pipe(v.number(), v.finite()), standardUncertainty: uncertainty }),
  ]),
  calibrated: v.optional(v.boolean(), false),
  statedGlow: v.optional(v.boolean(), false),
})

/** Ends a case with the code of a refusal. */
class Refused extends Error {
  constructor(
    readonly code: string,
    readonly findings: readonly unknown[] = [],
  ) {
    super(code)
  }
}

export async function openReader(folder: string): Promise<CaseReader> {
  const found = new Map<string, Promise<Read>>()
  const fileOf = (name: string) => {
    const read = found.get(name) ?? readFileOf(folder, name)
    found.set(name, read)
    return read
  }
  return {
    async read(given) {
      const asked = v.parse(spectrumCase, given)
      try {
        return await answer(asked, fileOf)
      } catch (error) {
        if (!(error instanceof Refused)) throw error
        return { ...NO_FIGURE, refused: error.code, findings: error.findings }
      }
    },
    close: async () => {},
  }
}

type Read = (findings: unknown[]) => { light: Spectrum; dark: Spectrum | null }
type FileOf = (name: string) => Promise<Read>

async function answer(
  asked: v.InferOutput<typeof spectrumCase>,
  fileOf: FileOf,
): Promise<Omit<Answer, 'id'>> {
  const findings: unknown[] = []
  const recording = async (of: { file: string; dark?: string | undefined }): Promise<Recording> => {
    const own = (await fileOf(of.file))(findings)
    const dark = of.dark === undefined ? own.dark : (await fileOf(of.dark))(findings).light
    return { spectrum: own.light, dark }
  }
  const responses: InstrumentResponse[] = []
  const respond = (from: Recording, lamp: SpectrumLamp) => {
    const made = responseFromReference(from, lamp, USUAL_INSTRUMENT)
    if (!made.ok) throw new Refused(made.code, findings)
    responses.push(made.response)
  }
  for (const one of asked.reference ?? []) respond(await recording(one), referenceOf(one))
  const glow = await recording(asked.glow)
  if (asked.calibrated && responses.length === 0) {
    const quantity = lightQuantity(glow.spectrum.name ?? '') ?? 'power'
    findings.push({ code: 'calibrated', quantity })
    respond(glow, { emitter: 'calibration', quantity })
  }
  const [response, ...others] = responses
  if (!response) throw new Refused('no response', findings)
  const result = temperatureFromSpectrum({
    recording: glow,
    response,
    others,
    surface: surfaceOf(asked.surface),
    window: null,
    range: null,
    ratioNm: null,
    statedGlow: asked.statedGlow,
  })
  if (!result.ok) {
    const { code, evidence } = result
    const seen = evidence ? [{ code, ...evidence, words: spectrumRefusalNotice(result).todo }] : []
    throw new Refused(code, [...findings, ...seen, ...(result.findings ?? [])])
  }
  const [low95K, high95K] = result.interval95K
  return {
    temperatureK: result.temperatureK,
    standardUncertaintyK: result.standardUncertaintyK,
    low95K,
    high95K,
    refused: null,
    findings: [
      ...findings,
      ...response.findings,
      ...result.findings,
      { code: 'budget', terms: result.budget },
      { code: 'shape', ...result.shapeSizes },
      ...(others.length > 0 ? [{ code: 'by reference', figures: result.byReference }] : []),
    ],
  }
}

function referenceOf(one: {
  emitter: string
  temperatureK: number
  standardUncertaintyK: number
}): SpectrumLamp {
  const { emitter, temperatureK, standardUncertaintyK } = one
  if (emitter === 'black body') {
    return { emitter, colourTemperatureK: temperatureK, standardUncertaintyK }
  }
  return { emitter: 'surface', surface: surfaceOf(emitter), temperatureK, standardUncertaintyK }
}

function surfaceOf(said: string | Omit<SpectrumSurface, 'spectral'>): SpectrumSurface {
  if (typeof said !== 'string') return { spectral: 'grey', ...said }
  const surface = surfaceFromMaterial(said)
  if (!surface) throw new Error(`no such material: ${said}`)
  return surface
}

const firstLight = (spectra: readonly Spectrum[]) =>
  Math.max(
    0,
    spectra.findIndex(({ name }) => !isDarkName(name)),
  )

/** A file as the app imports it; of several columns the parts that the app proposes. */
async function readFileOf(folder: string, name: string): Promise<Read> {
  const imported = importSpectra(decodeText(new Uint8Array(await readFile(join(folder, name)))))
  if (!imported.ok) {
    return () => {
      throw new Refused(`import: ${imported.code}`, [{ file: name, line: imported.line }])
    }
  }
  const { spectra } = imported
  const piled = spectra.map((spectrum, i) => ({
    key: String(i),
    fileName: name,
    step: 'glow' as const,
    spectrum,
  }))
  const roles = proposeRoles(NO_ROLES, piled, 'glow')
  // Nobody can be asked here: of several the first that is no dark, and it is told.
  const light = spectra[Number(roles.glow ?? roles.lamp ?? firstLight(spectra))]!
  const dark = roles.glowDark === null ? null : spectra[Number(roles.glowDark)]!
  const several = spectra.length > (dark === null ? 1 : 2)
  return (findings) => {
    for (const finding of imported.findings) findings.push({ file: name, ...finding })
    if (several)
      findings.push({ file: name, code: 'several spectra', taken: spectra.indexOf(light) + 1 })
    return { light, dark }
  }
}
