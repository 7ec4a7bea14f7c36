import { LOOK_NAMES, LOOKS, screenLook } from './look.ts'
import { Segments } from './segments.tsx'

/** Light or dark, or the dark shop's deep red. */
export function LookPicker() {
  return (
    <fieldset class="unit-picker">
      <legend class="soft small">Light of the screen</legend>
      <Segments
        of={LOOKS.map((name) => [name, LOOK_NAMES[name]] as const)}
        chosen={screenLook.value}
        onChoose={(name) => {
          screenLook.value = name
        }}
      />
    </fieldset>
  )
}
