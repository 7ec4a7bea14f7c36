import { findGlow, type GlowProposal } from '../../light/find-glow.ts'
import type { Region } from '../../light/image.ts'
import { lightMap } from '../../light/raw-pair/light-map.ts'
import { grown, type PixelBox, pixelBox, scaledRegion } from '../../light/region.ts'
import { MAX_FILE_MEGABYTES, PhotoRefused } from '../files/photo-refusal.ts'
import { cellsInSource } from '../photo/cells-in-source.ts'
import { encodeImage, encodeMarks } from '../photo/encode-picture.ts'
import { blockSide, drawMarks } from '../photo/marks.ts'
import { measureGreyInSource, measureInSource } from '../photo/measure-crop.ts'
import type { Opened, PhotoOperations } from '../photo/photo-operations.ts'
import { answerCalls } from '../worker-answers.ts'
import { decodeRaw } from './decode-raw.ts'
import { readDngHeader } from './dng-header.ts'
import { developed, lookGain, lookMatrix } from './raw-look.ts'
import { RawPixels } from './raw-pixels.ts'

/** Most pixels of the preview, and longest sides of the marks and of a picture that is kept. */
const PREVIEW_PIXELS = 1_200_000
const MARKS_PIXELS = 1600
const PICTURE_PIXELS = 320
/** Shares of the work, about as the time goes. */
const INSPECTED_SHARE = 0.1
const LOADED_SHARE = 0.4
const DECODED_SHARE = 0.7

interface Open {
  readonly pixels: RawPixels
  readonly look: ReturnType<typeof lookMatrix>
  readonly gain: number
}
let open: Open | null = null

function opened(): Open {
  if (open === null) throw new Error('no photo is open')
  return open
}

answerCalls<PhotoOperations>({
  open: openRaw,
  marks: async () => {
    const { pixels } = opened()
    const flags = pixels.blockFlags(blockSide(pixels.width, pixels.height, MARKS_PIXELS))
    const marks = drawMarks(flags)
    return marks === null ? null : encodeMarks(marks, flags.columns, flags.rows)
  },
  measure: ({ region }) => measureInSource(opened().pixels, region, { chromaSubsampled: false }),
  cells: ({ region, background }) =>
    cellsInSource(opened().pixels, region, {
      chromaSubsampled: false,
      codingSteps: null,
      background,
    }),
  measureGrey: ({ region, light }) => measureGreyInSource(opened().pixels, region, light),
  regionPicture: async (region) => {
    const { pixels, look, gain } = opened()
    const margin = 0.25 * Math.max(region.width, region.height)
    const around: Region = { ...grown(region, margin), shape: 'rectangle' }
    const box = pixelBox(around, pixels.width, pixels.height)
    const longest = Math.max(box.right - box.left, box.bottom - box.top)
    const scale = Math.max(1, longest / PICTURE_PIXELS)
    const most = ((box.right - box.left) * (box.bottom - box.top)) / scale ** 2
    const { light } = await pixels.crop(box, Math.ceil(most))
    const { width, height } = light
    return { blob: await encodeImage(developed(light, look, gain)), width, height }
  },
  readStored: async () => {
    throw new Error('a raw photo has no stored codes')
  },
  readLight: async ({ region }) => {
    const { pixels } = opened()
    const box = pixelBox({ ...region, shape: 'rectangle' }, pixels.width, pixels.height)
    return (await pixels.crop(box, Number.POSITIVE_INFINITY)).light
  },
  lightMap: async () => {
    const { pixels } = opened()
    return lightMap(pixels, async (top, bottom) => {
      const box = { left: 0, right: pixels.width, top, bottom }
      return (await pixels.crop(box, Number.POSITIVE_INFINITY)).light
    })
  },
})

async function openRaw(blob: Blob, progress: (share: number) => void): Promise<Opened> {
  if (blob.size > MAX_FILE_MEGABYTES * 1e6) {
    throw new PhotoRefused({
      code: 'too many bytes',
      megabytes: blob.size / 1e6,
      allowedMegabytes: MAX_FILE_MEGABYTES,
    })
  }
  const bytes = new Uint8Array(await blob.arrayBuffer())
  const header = readDngHeader(bytes)
  progress(INSPECTED_SHARE)
  const samples = await decodeRaw(bytes, header, () => progress(LOADED_SHARE))
  progress(DECODED_SHARE)
  const pixels = new RawPixels(samples, withoutBlack(header))
  const { width, height } = pixels
  const whole: PixelBox = { left: 0, top: 0, right: width, bottom: height }
  const { light, step } = await pixels.crop(whole, PREVIEW_PIXELS)
  const look = lookMatrix(header.cameraToXyz, header.asShotNeutral)
  const gain = lookGain(light, look)
  open = { pixels, look, gain }
  const sample = developed(light, look, gain)
  const preview = encodeImage(sample)
  const glow = inPhoto(findGlow(sample), step)
  return {
    preview: await preview,
    info: {
      kind: 'tiff',
      width,
      height,
      space: 'display-p3',
      channels: 'camera',
      cameraToXyz: header.cameraToXyz,
      asShotNeutral: header.asShotNeutral,
      facts: header.facts,
      subsampling: '4:4:4',
      chromaSubsampled: false,
      codingSteps: null,
      notes: header.cameraToXyz === null ? [{ code: 'no colour matrix' }] : [],
      glow,
    },
  }
}

/** The decoder has taken the black level off what is not a mosaic. */
function withoutBlack(header: ReturnType<typeof readDngHeader>) {
  if (header.layout === 'bayer') return header
  return {
    ...header,
    black: [0, 0, 0],
    white: header.white.map((level, i) => level - header.black[i]!),
  }
}

function inPhoto(glow: GlowProposal, step: number): GlowProposal {
  return glow.kind === 'found' ? { ...glow, region: scaledRegion(glow.region, step) } : glow
}
