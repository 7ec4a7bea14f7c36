import { leftOpenByLamp } from '../../estimate/spectrum/lamp.ts'
import { medianNoise } from '../../estimate/spectrum/trusted-range.ts'
import type { SpectrumLamp } from '../../estimate/spectrum/types.ts'
import { SHOWN_AT_K } from '../../session/kit/capture-model.ts'
import type { StoredResponse } from '../../session/kit/stored-items.ts'
import { plainNumber } from '../plain-number.ts'
import { showPlusMinus, showTemperature } from '../temperature.ts'
import { showMoment } from './dates.ts'
import { colourTemperatureWords } from './lamps.ts'
import { EMITTER_WORDS, QUANTITY_WORDS, stretchWords } from './spectrum.ts'

/** How hot the reference was, or what the maker’s file counts. */
function lampWords(lamp: SpectrumLamp): string {
  if (lamp.emitter === 'calibration') return QUANTITY_WORDS[lamp.quantity]
  if (lamp.emitter !== 'surface') {
    return colourTemperatureWords(lamp.colourTemperatureK, lamp.standardUncertaintyK)
  }
  return `${showTemperature(lamp.temperatureK)} ${showPlusMinus(lamp.standardUncertaintyK)}`
}

/** A reference in a few words: "Hot surface, 999 °C ± 6 °C". */
export const referenceWords = (lamp: SpectrumLamp): string =>
  `${EMITTER_WORDS[lamp.emitter]}, ${lampWords(lamp)}`

/** What there is to know of a kept response, in rows. */
export function responseFacts({
  item,
  response,
  range,
}: StoredResponse): readonly (readonly [string, string])[] {
  const { lamp } = response
  const noise = 200 * medianNoise(response, range ?? response.range)
  return [
    ['Made', showMoment(item.date.iso)],
    [EMITTER_WORDS[lamp.emitter], lampWords(lamp)],
    ['Trusted', range ? `${stretchWords(range)}, set by hand` : stretchWords(response.range)],
    ['Noise', `± ${plainNumber(noise)} %`],
    [
      'The lamp’s part',
      `${showPlusMinus(leftOpenByLamp(lamp, SHOWN_AT_K))} at ${showTemperature(SHOWN_AT_K)}`,
    ],
  ]
}
