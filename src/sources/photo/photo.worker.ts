import { type ClippingLevels, clippingLevels } from '../../light/clipping-level.ts'
import { type CodingSteps, UNKNOWN_STEPS } from '../../light/exposure-sweep/frame-levels.ts'
import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import { findGlow, type GlowProposal } from '../../light/find-glow.ts'
import type { Region } from '../../light/image.ts'
import { lightMap } from '../../light/raw-pair/light-map.ts'
import { grown, pixelBox, scaledRegion } from '../../light/region.ts'
import { ownLight } from '../../light/tone-response.ts'
import { answerCalls } from '../worker-answers.ts'
import { cellsInSource } from './cells-in-source.ts'
import { decodePhoto } from './decode.ts'
import { encodeMarks } from './encode-picture.ts'
import { photoLight } from './light-source.ts'
import { blockSide, drawMarks, scanFlags } from './marks.ts'
import { measureGreyInSource, measureInSource } from './measure-crop.ts'
import type { PhotoInfo } from './photo.ts'
import type { Opened, PreparedOperations } from './photo-operations.ts'
import { type PhotoPixels, readCrop } from './pixel-source.ts'
import { warmUpDecoder } from './warm-up.ts'

/**
 * Longest sides of the sample for finding the glow, of preview and marks, of a kept picture. Every
 * fifth pixel of 12 megapixels still finds a wire of ten pixels; thinner ones cannot be read.
 */
const SAMPLE_PIXELS = 820
const PREVIEW_PIXELS = 1280
const PICTURE_PIXELS = 320
/** Shares of the work, about as the time goes. */
const DECODED_SHARE = 0.5
const FOUND_SHARE = 0.8

interface Open {
  readonly pixels: PhotoPixels
  readonly levels: ClippingLevels
  readonly chromaSubsampled: boolean
  /** Null: no blocks. */
  readonly blockSteps: CodingSteps | null
  /** See {@link Photo}. */
  readonly codingSteps: CodingSteps | null
}
let open: Open | null = null

function opened(): Open {
  if (open === null) throw new Error('no photo is open')
  return open
}

answerCalls<PreparedOperations>({
  open: async (blob, progress) => {
    const looked = await lookAt(blob, progress)
    open = looked.open
    return looked.opened
  },
  warmUp: async () =>
    warmUpDecoder(async (blob) => {
      const {
        open: mine,
        opened: { info },
      } = await lookAt(blob)
      if (info.glow.kind === 'found') await measured(mine, info.glow.region, null)
      mine.pixels.close()
    }),
  marks: () => marksOf(opened()),
  measure: ({ region, curve }) => measured(opened(), region, curve),
  cells: async ({ region, curve, background }) => {
    const { pixels, levels, chromaSubsampled, blockSteps } = opened()
    return cellsInSource(photoLight(pixels, levels, curve), region, {
      chromaSubsampled,
      codingSteps: blockSteps,
      background,
    })
  },
  measureGrey: async ({ region, light }) => {
    const { pixels, levels } = opened()
    return measureGreyInSource(photoLight(pixels, levels), region, light)
  },
  regionPicture: async (region) => {
    const { pixels } = opened()
    const margin = 0.25 * Math.max(region.width, region.height)
    const around: Region = { ...grown(region, margin), shape: 'rectangle' }
    return pixels.picture(pixelBox(around, pixels.width, pixels.height), PICTURE_PIXELS)
  },
  readStored: stored,
  readLight: async ({ region, curve }) => {
    const { pixels, levels } = opened()
    const box = pixelBox({ ...region, shape: 'rectangle' }, pixels.width, pixels.height)
    return (await photoLight(pixels, levels, curve).crop(box, Number.POSITIVE_INFINITY)).light
  },
  lightMap: async () => {
    const { pixels, levels } = opened()
    return lightMap(pixels, async (top, bottom) => {
      const box = { left: 0, right: pixels.width, top, bottom }
      return ownLight((await readCrop(pixels, box, 1)).image, levels)
    })
  },
})

async function stored(region: Region) {
  const { pixels } = opened()
  const box = pixelBox({ ...region, shape: 'rectangle' }, pixels.width, pixels.height)
  return (await readCrop(pixels, box, 1)).image
}

function measured(
  { pixels, levels, chromaSubsampled, codingSteps }: Open,
  region: Region,
  curve: ToneCurve | null,
) {
  return measureInSource(photoLight(pixels, levels, curve), region, {
    chromaSubsampled,
    codingSteps,
  })
}

async function lookAt(
  blob: Blob,
  progress: (share: number) => void = () => undefined,
): Promise<{ readonly open: Open; readonly opened: Opened }> {
  const { header, facts, pixels, notes } = await decodePhoto(blob)
  progress(DECODED_SHARE)
  const { width, height, space } = pixels
  const whole = { left: 0, top: 0, right: width, bottom: height }
  // Shrinking and encoding run beside this thread while the glow is sought.
  const preview = pixels.picture(whole, PREVIEW_PIXELS)
  const step = blockSide(width, height, SAMPLE_PIXELS)
  const { image: sample } = await readCrop(pixels, whole, step)
  const levels = clippingLevels(sample)
  const chromaSubsampled = header.subsampling !== '4:4:4'
  const lossless = header.kind === 'png'
  const blockSteps = lossless ? null : (header.dcSteps ?? UNKNOWN_STEPS)
  const codingSteps = lossless ? { luma: 1, chroma: 1 } : header.dcSteps
  const glow = inPhoto(findGlow(sample), step)
  progress(FOUND_SHARE)
  const info: PhotoInfo = {
    kind: header.kind,
    width,
    height,
    space,
    channels: 'display-p3',
    cameraToXyz: null,
    asShotNeutral: null,
    facts,
    subsampling: header.subsampling,
    chromaSubsampled,
    codingSteps,
    notes,
    glow,
  }
  return {
    open: { pixels, levels, chromaSubsampled, blockSteps, codingSteps },
    opened: { preview: (await preview).blob, info },
  }
}

async function marksOf({ pixels, levels }: Open): Promise<Blob | null> {
  const block = blockSide(pixels.width, pixels.height, PREVIEW_PIXELS)
  const flags = await scanFlags(pixels, block, levels, otherCalls)
  const marks = drawMarks(flags)
  return marks === null ? null : encodeMarks(marks, flags.columns, flags.rows)
}

/** Lets calls that have come in meanwhile be answered first. */
function otherCalls(): Promise<void> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel()
    port1.onmessage = () => {
      port1.close()
      resolve()
    }
    port2.postMessage(null)
  })
}

function inPhoto(glow: GlowProposal, block: number): GlowProposal {
  return glow.kind === 'found' ? { ...glow, region: scaledRegion(glow.region, block) } : glow
}
