import { useSignal } from '@preact/signals'
import { FALSE_ALARM_RATE } from '../../estimate/recording/plateaus.ts'
import type { PlateauOffer, RecordingModel } from '../../session/recording/recording-model.ts'
import { go } from '../../ui/router.ts'
import { sayFailure } from '../../ui/say-failure.ts'
import { say } from '../../ui/spoken.tsx'
import { showDifference, showFigure, showPlusMinus, showTemperature } from '../../ui/temperature.ts'
import { showDuration } from '../../ui/words/duration.ts'
import {
  CONDITIONS,
  falseAlarms,
  KNOWN_HEAT_CAUTION,
  NO_MEANING,
  plateauName,
  REFERENCE_OBSTACLES,
  showSlope,
} from '../../ui/words/recording.ts'
import styles from './recording.module.css'

/** Where the curve stands or slows, and what that may be. */
export function PlateauPanel({ model }: { model: RecordingModel }) {
  const offers = model.plateaus.value
  if (offers === null) return <p class="soft">Looking for plateaus …</p>
  return (
    <section class="stack">
      <h2>Plateaus and kinks</h2>
      {offers.length === 0 && <p class="soft">None found.</p>}
      {offers.map((offer) => (
        <Offer key={offer.plateau.fromSeconds} offer={offer} model={model} />
      ))}
      <p class="soft small">{falseAlarms(FALSE_ALARM_RATE)}</p>
    </section>
  )
}

function Offer({ offer, model }: { offer: PlateauOffer; model: RecordingModel }) {
  const { plateau, meanings, reference } = offer
  const kept = useSignal(false)
  const [nearest] = meanings
  const keep = async () => {
    const id = await model.keepReference(offer)
    if (id === null) return
    kept.value = true
    say('Kept as a known heat of this camera.', { label: 'Kit', run: () => go('kit') })
  }
  return (
    <div class={styles.plateau}>
      <strong>{plateauName(plateau)}</strong>
      <span class="figure">
        {showFigure(plateau.levelK, 2 * model.uncertaintyAt(plateau))} ·{' '}
        {showDuration(plateau.fromSeconds)} to {showDuration(plateau.toSeconds)}
      </span>
      <span class="soft small">
        {showSlope(plateau.slopeWithin, plateau.slopeWithinUncertainty)} within
        {plateau.undercoolingK > 0 &&
          `, after ${showDifference(plateau.undercoolingK)} undercooling`}
      </span>
      {meanings.length === 0 ? (
        <span class="small">{NO_MEANING}</span>
      ) : (
        <ul class="small">
          {meanings.map((meaning) => (
            <li key={`${meaning.id} ${meaning.condition}`}>
              May be: {meaning.name}
              {meaning.condition && ` (${CONDITIONS[meaning.condition] ?? meaning.condition})`},{' '}
              {showTemperature(meaning.temperatureK)} {showPlusMinus(meaning.pointUncertaintyK)}
            </li>
          ))}
        </ul>
      )}
      {nearest && typeof reference === 'string' && (
        <span class="soft small">{REFERENCE_OBSTACLES[reference]}</span>
      )}
      {nearest && reference !== null && typeof reference !== 'string' && (
        <>
          <span class="soft small">{KNOWN_HEAT_CAUTION}</span>
          <button type="button" disabled={kept.value} onClick={() => void keep().catch(sayFailure)}>
            {kept.value
              ? 'Kept as a known heat'
              : `It is ${nearest.name.replace(/ (melts|freezes)$/, '').toLowerCase()}: keep ${showFigure(reference.temperatureK, 2 * reference.standardUncertaintyK)}`}
          </button>
        </>
      )}
    </div>
  )
}
