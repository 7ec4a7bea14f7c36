import { cssColour } from '../colour/screen-gamut.ts'
import { drawReadingCard, shareReading } from '../sources/share-reading.ts'
import { saveFile } from './save-file.ts'
import { say } from './spoken.tsx'
import { stripColours, stripEnds } from './strip-colours.ts'
import { showFigure, showTemperature } from './temperature.ts'
import { showMoment } from './words/dates.ts'
import { SHARE_WORDS, shareText } from './words/share.ts'

export interface SharedReading {
  readonly temperatureK: number
  readonly expandedUncertaintyK: number
  readonly interval95K: readonly [number, number]
  readonly object: string
  /** ISO 8601. */
  readonly takenAt: string
  readonly method: string
  readonly simulated: boolean
}

/** Shares one reading as a picture and as text; a file where the browser has no share sheet. */
export function ShareButton({ reading }: { reading: SharedReading }) {
  const share = async () => {
    const { temperatureK, expandedUncertaintyK, interval95K, object, takenAt, method } = reading
    const [fromK, toK] = stripEnds(temperatureK)
    const placeOf = (kelvin: number) => (kelvin - fromK) / (toK - fromK)
    const figure = showFigure(temperatureK, expandedUncertaintyK)
    const when = showMoment(takenAt)
    const simulated = reading.simulated ? SHARE_WORDS.simulated : null
    const picture = await drawReadingCard({
      figure,
      object,
      when,
      simulated,
      caution: SHARE_WORDS.caution,
      foot: `Glowbook · ${method}`,
      strip: stripColours(fromK, toK, 120).map(cssColour),
      ends: [showTemperature(fromK), showTemperature(toK)],
      at: placeOf(temperatureK),
      range: [placeOf(interval95K[0]), placeOf(interval95K[1])],
    })
    const text = shareText({ figure, object, when, method, simulated })
    const name = `glowbook-${when.replace(/[ :]/g, '-')}.png`
    if ((await shareReading(picture, name, text)) !== 'no sheet') return
    saveFile(picture, name)
    saveFile(new Blob([text], { type: 'text/plain' }), name.replace('.png', '.txt'))
    say('No share sheet here: saved as a picture and as text.')
  }
  return (
    <button type="button" class="grow" onClick={() => void share()}>
      Share
    </button>
  )
}
