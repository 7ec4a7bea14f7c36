import { useSignal } from '@preact/signals'
import type { PlateauMeaning } from '../../estimate/recording/plateau-meaning.ts'
import { FALSE_ALARM_RATE } from '../../estimate/recording/plateaus.ts'
import type { PlateauOffer, RecordingModel } from '../../session/recording/recording-model.ts'
import { go } from '../../ui/router.ts'
import { SelectField } from '../../ui/select-field.tsx'
import { say } from '../../ui/spoken.tsx'
import { showDifference, showFigure, showPlusMinus, showTemperature } from '../../ui/temperature.ts'
import { useSaving } from '../../ui/use-saving.ts'
import { showDuration } from '../../ui/words/duration.ts'
import { ownEntry } from '../../ui/words/own-entry.ts'
import {
  CONDITIONS,
  falseAlarms,
  HEATS_DISAGREE,
  KNOWN_HEAT_CAUTION,
  MANY_MEANINGS,
  NO_MEANING,
  plateauName,
  REFERENCE_OBSTACLES,
  SET_BY_HEAT,
  setName,
  showSlope,
} from '../../ui/words/recording.ts'
import styles from './recording.module.css'
import { restOfRecordings } from './recording-place.ts'

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

const UNSAID = ''

/** Meanings that are listed; where more lie within the ± the curve itself does not tell. */
const LISTED = 3

function meaningName({ name, condition }: PlateauMeaning): string {
  return condition ? `${name} (${ownEntry(CONDITIONS, condition) ?? condition})` : name
}

function Offer({ offer, model }: { offer: PlateauOffer; model: RecordingModel }) {
  const { plateau, meanings } = offer
  const kept = useSignal(false)
  const { busy, run } = useSaving()
  // Of several the person says which: the likeliest is not offered as if it were known.
  const chosen = useSignal(meanings.length === 1 ? '0' : UNSAID)
  const meaning = chosen.value === UNSAID ? undefined : meanings[Number(chosen.value)]
  const reference = meaning ? offer.reference(meaning) : null
  const keep = async () => {
    if (!meaning) return
    const id = await model.keepReference(offer, meaning)
    if (id === null) return
    kept.value = true
    say('Kept as a known heat of this camera.', { label: 'Kit', run: () => go('kit') })
  }
  const object = model.stored.value?.head.object ?? ''
  const set = async () => {
    if (!meaning) return
    const id = await model.setBy(offer, meaning, setName(object))
    if (id === null) return
    go('log', restOfRecordings(id))
    say(SET_BY_HEAT)
  }
  const reached = reference !== null && typeof reference !== 'string'
  const sets = meaning ? model.setsCurve(offer, meaning) : null
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
      {meanings.length === 0 && <span class="small">{NO_MEANING}</span>}
      {meanings.length > LISTED && <span class="small">{MANY_MEANINGS}</span>}
      {meanings.length > 0 && meanings.length <= LISTED && (
        <ul class="small">
          {meanings.map((one) => (
            <li key={`${one.id} ${one.condition}`}>
              May be: {meaningName(one)}, {showTemperature(one.temperatureK)}{' '}
              {showPlusMinus(one.pointUncertaintyK)}
            </li>
          ))}
        </ul>
      )}
      {meanings.length > 1 && (
        <SelectField
          label="What it was"
          value={chosen.value}
          of={[
            [UNSAID, 'Not said'],
            ...meanings.map(
              (one, i) =>
                [String(i), `${meaningName(one)}, ${showTemperature(one.temperatureK)}`] as const,
            ),
          ]}
          onValue={(value) => {
            chosen.value = value
          }}
        />
      )}
      {typeof reference === 'string' && (
        <span class="soft small">{REFERENCE_OBSTACLES[reference]}</span>
      )}
      {(reached || sets === 'agrees') && <span class="soft small">{KNOWN_HEAT_CAUTION}</span>}
      {sets === 'heats disagree' && <span class="small">{HEATS_DISAGREE}</span>}
      {sets === 'agrees' && (
        <button type="button" disabled={busy.value} onClick={() => void run(set)}>
          Set this curve by it
        </button>
      )}
      {reached && (
        <button type="button" disabled={kept.value || busy.value} onClick={() => void run(keep)}>
          {kept.value
            ? 'Kept as a known heat'
            : `Keep as a known heat: ${showFigure(reference.temperatureK, 2 * reference.standardUncertaintyK)}`}
        </button>
      )}
    </div>
  )
}
