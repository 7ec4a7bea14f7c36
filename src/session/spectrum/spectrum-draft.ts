import type { KitModel } from '../kit/kit-model.ts'
import type { SpectrumModel } from './model-types.ts'
import { createSpectrumModel } from './spectrum-model.ts'

let inHand: SpectrumModel | undefined

/** Unsaved work lives beside the screen: a look at the log loses none of it. */
export function openSpectrum(kit: KitModel): SpectrumModel {
  inHand ??= createSpectrumModel(kit.responses)
  return inHand
}
