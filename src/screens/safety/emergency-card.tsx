import { useSignal } from '@preact/signals'
import { useServices } from '../../session/services.ts'
import { TextField } from '../../ui/text-field.tsx'
import { useTyped } from '../../ui/use-typed.ts'
import { FIRST_AID } from '../../ui/words/safety-statements.data.ts'
import css from './safety.module.css'

/** Characters that a telephone address may have (RFC 3966). */
const dialled = (number: string) => number.replace(/[^\d+*#]/g, '')

/** First on the screen once the number is typed: the call, and the address to say. */
export function EmergencyCall() {
  const { number, address } = useServices().safety.emergency.value
  if (dialled(number) === '') return null
  return (
    <section class="stack" aria-label="Emergency call">
      <a class={`button wide ${css.main}`} href={`tel:${dialled(number)}`}>
        Call {number}
      </a>
      {address && <p class={css.address}>{address}</p>}
    </section>
  )
}

/** First aid in four lines; the number and the address as they were typed. */
export function EmergencyCard() {
  const { safety } = useServices()
  const { number, address } = safety.emergency.value
  const editing = useSignal(false)
  return (
    <section class="card stack" aria-label="Emergency">
      <h2>Emergency</h2>
      {dialled(number) !== '' && !editing.value ? (
        <>
          <p>
            {number}
            {address && `, ${address}`}
          </p>
          <button
            type="button"
            onClick={() => {
              editing.value = true
            }}
          >
            Change
          </button>
        </>
      ) : (
        <EmergencyForm
          onDone={() => {
            editing.value = false
          }}
        />
      )}
      <ul class="stack">
        {FIRST_AID.map(({ id, text }) => (
          <li key={id}>{text}</li>
        ))}
      </ul>
    </section>
  )
}

function EmergencyForm({ onDone }: { onDone: () => void }) {
  const { safety } = useServices()
  const stored = safety.emergency.value
  const number = useTyped('emergency number', stored.number)
  const address = useTyped('emergency address', stored.address)
  return (
    <form
      class="stack"
      onSubmit={(event) => {
        event.preventDefault()
        safety.setEmergency({ number: number.value.trim(), address: address.value.trim() })
        onDone()
      }}
    >
      <TextField
        label="Emergency number (112 in Europe, 911 in North America)"
        value={number.value}
        longest={60}
        onValue={(value) => {
          number.value = value
        }}
      />
      <TextField
        label="Address of this place, as you would say it"
        value={address.value}
        longest={400}
        onValue={(value) => {
          address.value = value
        }}
      />
      <button type="submit">Store it on this device</button>
    </form>
  )
}
