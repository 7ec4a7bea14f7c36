import type { TypedText } from '../../session/kit/lamp-form.ts'
import type { LampModel } from '../../session/kit/lamp-model.ts'
import { TextField } from '../text-field.tsx'
import { LAMP_FIELDS } from '../words/lamps.ts'

/** What a meter shows, with all its digits: they say how fine it reads. */
export function MeterField({ model, name }: { model: LampModel; name: keyof TypedText }) {
  const { typed } = model.form.value
  return (
    <TextField
      label={LAMP_FIELDS[name]}
      number
      value={typed[name]}
      onValue={(text) => model.change({ typed: { ...typed, [name]: text } })}
    />
  )
}
