import type { Signal } from '@preact/signals'
import { middleRegion } from '../../light/region-geometry.ts'
import type { LiveModel } from '../../session/live/live-model-type.ts'
import { CardLightPicker } from '../../ui/card-light-picker.tsx'
import { Notices } from '../../ui/notices.tsx'
import { CARD_NOT_COUNTED, greyNotice } from '../../ui/words/grey-findings.ts'
import { CARD_COUNTS } from '../../ui/words/live.ts'

/** A grey card in the live picture, measured in every frame beside the glow. */
export function CardPanel({
  model,
  placing,
}: {
  model: LiveModel
  placing: Signal<'sight' | 'card'>
}) {
  const region = model.cardRegion.value
  const card = model.card.value
  return (
    <section class="stack">
      <label class="field">
        <span>Grey card</span>
        <select
          value={region ? 'here' : 'none'}
          onChange={(event) => {
            const here = event.currentTarget.value === 'here'
            placing.value = here ? 'card' : 'sight'
            model.setCard(here ? firstPlace(model) : null)
          }}
        >
          <option value="none">None</option>
          <option value="here">In this picture</option>
        </select>
      </label>
      {region && (
        <>
          <div class="segments">
            <button
              type="button"
              aria-pressed={placing.value === 'card'}
              onClick={() => {
                placing.value = 'card'
              }}
            >
              Place card
            </button>
            <button
              type="button"
              aria-pressed={placing.value === 'sight'}
              onClick={() => {
                placing.value = 'sight'
              }}
            >
              Done
            </button>
          </div>
          {placing.value === 'card' && (
            <p class="small soft">
              Tap the card in the picture; the frame must lie inside it. Keep card, lamp and camera
              where they are.
            </p>
          )}
          <CardLightPicker
            light={model.desk.cardLight.value}
            onLight={(light) => {
              model.desk.cardLight.value = light
            }}
          />
          {model.byCard.value ? (
            <p class="small soft">{CARD_COUNTS}</p>
          ) : (
            card && (
              // What is wrong with a card is worth saying once it has been placed.
              <Notices
                notices={[
                  CARD_NOT_COUNTED,
                  ...(placing.value === 'card' ? [] : card.findings.map(greyNotice)),
                ]}
              />
            )
          )}
        </>
      )}
    </section>
  )
}

/** Beside the glow, where a card most often lies: the lower right. */
function firstPlace(model: LiveModel) {
  const { width, height } = model.size.value
  const middle = middleRegion({ width, height })
  const side = 0.6 * middle.width
  return { ...middle, x: 0.9 * width - side, y: 0.8 * height - side / 2, width: side, height: side }
}
