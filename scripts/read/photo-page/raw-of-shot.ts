/** The raw picture of a case's shot: read itself, or asked for the tone curve of the photo. */
import type { ToneCurve } from '../../../src/light/exposure-sweep/tone-curve.ts'
import type { MeasuredGrey } from '../../../src/light/grey-reference.ts'
import { fileKind } from '../../../src/sources/files/file-kind.ts'
import { openPicture } from '../../../src/sources/open-picture.ts'
import type { Photo } from '../../../src/sources/photo/photo.ts'
import { measureRawPair } from '../../../src/sources/sweep/measure-raw-pair.ts'
import type { PhotoCase } from './photo-case-schema.ts'

export interface ShotUse {
  /** The files that are read as the glow. */
  readonly glow: readonly string[]
  /** For this photo and the others of its camera. */
  readonly curve: ToneCurve | null
  readonly balance: MeasuredGrey | null
}

/**
 * With card or known heats in ordinary photos the photo is read, by the curve that the raw picture
 * gives; else the raw picture itself, whose light needs no curve.
 */
export async function useOfRaw(
  asked: PhotoCase,
  fileOf: (name: string) => File,
  findings: unknown[],
): Promise<ShotUse> {
  const photoAlone = { glow: asked.glow, curve: null, balance: null }
  const { raw } = asked
  const [shot, ...others] = asked.glow
  if (raw === undefined || shot === undefined || others.length > 0) return photoAlone
  const partners = [
    ...(asked.card ? [asked.card.file] : []),
    ...(asked.knownHeats ?? []).map(({ glow }) => glow[0]!),
  ]
  const ofPhotos = await Promise.all(partners.map(async (name) => !(await isRaw(fileOf(name)))))
  if (!ofPhotos.includes(true)) return { ...photoAlone, glow: [raw] }
  const opened: Photo[] = []
  try {
    for (const name of [shot, raw]) opened.push(await openPicture(fileOf(name)))
    const [photo, theirs] = opened as [Photo, Photo]
    if (photo.channels === 'camera' || theirs.channels !== 'camera') return photoAlone
    const found = await measureRawPair(photo, theirs)
    if (found.kind === 'measured') {
      const { stops, misfit, kindProbability, balance } = found
      const { kind } = found.curve
      findings.push({ code: 'raw pair', kind, kindProbability, stops, misfit })
      return { glow: asked.glow, curve: found.curve, balance }
    }
    findings.push({ code: 'raw pair refused', reason: found.reason, ...found.values })
    return photoAlone
  } finally {
    for (const photo of opened) photo.close()
  }
}

const isRaw = async (file: File): Promise<boolean> =>
  /\.dng$/i.test(file.name) &&
  fileKind(new Uint8Array(await file.slice(0, 4096).arrayBuffer())) === 'tiff'
