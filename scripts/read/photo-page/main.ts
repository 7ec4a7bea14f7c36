/** Reads one case as the reading screen does, without a person: proposed regions, stated choices. */
import '../../../src/trusted-types.ts'
import { estimateGlow } from '../../../src/estimate/estimate-glow.ts'
import type {
  BalanceState,
  GlowEstimate,
  GlowInput,
  GreyBalance,
  KnownHeatReference,
} from '../../../src/estimate/types.ts'
import type { CardLightId } from '../../../src/light/card-light.ts'
import { balanceFromGrey } from '../../../src/light/grey-reference.ts'
import { middleRegion } from '../../../src/light/region-geometry.ts'
import { fixedPointTemperature } from '../../../src/physics/fixed-points.ts'
import { glowInput } from '../../../src/session/reading/glow-input.ts'
import { cameraIdOf } from '../../../src/session/reading/photo-meaning.ts'
import { PhotoRefused } from '../../../src/sources/files/photo-refusal.ts'
import { openPicture } from '../../../src/sources/open-picture.ts'
import type { Photo } from '../../../src/sources/photo/photo.ts'
import type { Answer } from '../read-cases.ts'
import { lightOfPhoto, lightOfSweep } from './light-in.ts'
import type { PhotoCase } from './photo-case-schema.ts'
import { useOfRaw } from './raw-of-shot.ts'
import { Refused } from './refused.ts'
import { sweepsOfCase } from './sweeps-of-case.ts'

type Reply = Omit<Answer, 'id'>
type Surface = PhotoCase['surface']

/** A filament of stated colour temperature, as a person would know it. */
const LAMP_UNCERTAINTY_K = 50

globalThis.readPhotoCase = async (asked, names) => {
  const chosen = document.querySelector('input')?.files
  const fileOf = (name: string): File => chosen![names.indexOf(name)]!
  try {
    return await answer(asked, fileOf)
  } catch (error) {
    if (error instanceof PhotoRefused) return refused(error.refusal.code, [error.refusal])
    if (error instanceof Refused) return refused(error.code, error.findings)
    throw error
  }
}

const refused = (code: string, findings: readonly unknown[]): Reply => ({
  temperatureK: null,
  standardUncertaintyK: null,
  low95K: null,
  high95K: null,
  refused: code,
  findings,
})

async function answer(asked: PhotoCase, fileOf: (name: string) => File): Promise<Reply> {
  const findings: unknown[] = []
  const shot = await useOfRaw(asked, fileOf, findings)
  const card = asked.card && { light: lightOf(asked.card.light), file: fileOf(asked.card.file) }
  const balances = new Map<string, Promise<GreyBalance>>()
  const balanceFor = (photo: Photo): Promise<GreyBalance> | null => {
    if (!card) {
      const gains = photo.channels === 'camera' ? null : shot.balance
      return gains && Promise.resolve({ id: 'raw pair', ...gains })
    }
    const found = balances.get(photo.channels) ?? balanceOf(card.file, card.light, photo.channels)
    balances.set(photo.channels, found)
    return found
  }
  const heats = asked.knownHeats ?? []
  const sweeps = await sweepsOfCase([shot.glow, ...heats.map(({ glow }) => glow)], fileOf)
  const inputOf = async (files: readonly string[], surface: Surface): Promise<GlowInput> => {
    const swept = sweeps.get(files)
    const { photo, ...seen } = swept
      ? await lightOfSweep(swept, findings)
      : await lightOfPhoto(fileOf(files[0]!), shot.curve, findings)
    try {
      const input = glowInput({
        ...seen,
        channels: photo.channels,
        cameraToXyz: photo.cameraToXyz,
        balance: await balanceFor(photo),
        choices: {
          materialId: typeof surface === 'string' ? surface : 'as stated',
          cover: 'none',
          balanceState: stateOf(asked, photo),
        },
        cameraId: asked.camera ?? cameraIdOf(photo.facts),
        faithfulColours: false,
        takenAt: photo.facts.takenAt,
        references: [],
      })
      if (typeof surface === 'string') return input
      return { ...input, surface: { id: 'as stated', ...surface } }
    } finally {
      // A sweep is ended below: another glow may be of the same files.
      if (!swept) photo.close()
    }
  }
  try {
    return await answerBy(inputOf, asked.surface, shot.glow, heats, findings)
  } finally {
    for (const { sweep } of sweeps.values()) sweep.close()
  }
}

async function answerBy(
  inputOf: (files: readonly string[], surface: Surface) => Promise<GlowInput>,
  surface: Surface,
  glow: readonly string[],
  heats: NonNullable<PhotoCase['knownHeats']>,
  findings: unknown[],
): Promise<Reply> {
  const references: KnownHeatReference[] = []
  for (const [i, heat] of heats.entries()) {
    const known = fixedPointTemperature({ id: heat.id })
    if (!known.ok) throw new Error(`${heat.id}: ${known.code}`)
    const input = await inputOf(heat.glow, heat.surface ?? surface)
    references.push({
      id: `known heat ${i}`,
      name: heat.id,
      cameraId: input.cameraId,
      takenAt: input.takenAt ?? '',
      temperatureK: known.temperatureK,
      standardUncertaintyK: known.standardUncertaintyK,
      glow: input.glow,
      channels: input.channels,
      balance: input.balance,
      balanceState: input.balanceState,
      linearity: input.linearity,
      surface: input.surface,
      group: null,
      ...(input.level ? { level: input.level } : {}),
    })
  }
  const input = await inputOf(glow, surface)
  return replyOf(estimateGlow({ ...input, references }), findings)
}

function replyOf(estimate: GlowEstimate, before: readonly unknown[]): Reply {
  const findings = [...before, ...estimate.findings]
  if (estimate.kind === 'no number') return refused(estimate.reason, findings)
  if (estimate.kind === 'below range') {
    return { ...refused('below range', findings), high95K: estimate.upperBoundK }
  }
  const [low95K, high95K] = estimate.interval95K
  const { temperatureK, standardUncertaintyK } = estimate
  return { temperatureK, standardUncertaintyK, low95K, high95K, refused: null, findings }
}

async function balanceOf(
  file: File,
  light: CardLightId,
  channels: Photo['channels'],
): Promise<GreyBalance> {
  const photo = await openPicture(file)
  try {
    if (photo.channels !== channels) throw new Refused('card of other channels')
    const found = await photo.measureGrey(middleRegion(photo), light)
    if (found.refused) throw new Refused('card cannot be used', found.findings)
    return { id: 'card', ...balanceFromGrey({ card: found.card, light, channels }) }
  } finally {
    photo.close()
  }
}

const lightOf = (said: 'daylight' | { kelvin: number }): CardLightId =>
  said === 'daylight'
    ? { kind: 'daylight', illuminant: 'D65' }
    : {
        kind: 'filament',
        colourTemperatureK: said.kelvin,
        standardUncertaintyK: LAMP_UNCERTAINTY_K,
      }

const stateOf = ({ whiteBalance }: PhotoCase, { channels }: Photo): BalanceState => ({
  kind: channels === 'camera' ? 'raw' : whiteBalance,
  colourTemperatureK: null,
})
