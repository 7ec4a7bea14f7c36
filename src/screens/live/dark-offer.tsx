import { useSignal, useSignalEffect } from '@preact/signals'
import { isDarkPicture } from '../../light/live/dark-picture.ts'
import type { LiveModel } from '../../session/live/live-model-type.ts'
import { LOOK_NAMES, screenLook } from '../../ui/look.ts'
import { storedSetting, storeSetting } from '../../ui/settings.ts'
import css from './live.module.css'

const REFUSED = 'glowbook.dark-offer'
/** Dark looks at the picture in a row, four a second, before it is offered. */
const LOOKS = 6

/** Offers the dark-shop look while the live picture is dark; once refused, never again on this device. */
export function DarkOffer({ model }: { model: LiveModel }) {
  const dark = useSignal(0)
  const refused = useSignal(storedSetting(REFUSED) !== null)
  useSignalEffect(() => {
    const background = model.measurement.value?.background?.colour.mean
    if (!background || dark.peek() >= LOOKS) return
    dark.value = isDarkPicture(background) ? dark.peek() + 1 : 0
  })
  if (dark.value < LOOKS || refused.value || screenLook.value === 'dark-shop') return null
  return (
    <p class={css.darkOffer}>
      <span>Dark picture</span>
      <button
        type="button"
        onClick={() => {
          screenLook.value = 'dark-shop'
        }}
      >
        {LOOK_NAMES['dark-shop']} look
      </button>
      <button
        type="button"
        aria-label="Do not offer the dark-shop look again"
        onClick={() => {
          refused.value = true
          storeSetting(REFUSED, 'no')
        }}
      >
        ✕
      </button>
    </p>
  )
}
