import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { StoredFlatField } from '../../session/kit/camera-data.ts'
import { changeCamera } from '../../session/kit/camera-store.ts'
import { type FlatFieldPhoto, flatFieldFromPhoto } from '../../session/kit/flat-field-photo.ts'
import { useServices } from '../../session/services.ts'
import { FileButton, PHOTO_TYPES } from '../../ui/file-button.tsx'
import { Notices } from '../../ui/notices.tsx'
import { say } from '../../ui/spoken.tsx'
import { useSaving } from '../../ui/use-saving.ts'
import { showDay } from '../../ui/words/dates.ts'
import {
  FLAT_FIELD_WORDS,
  flatFieldRefusalNotice,
  flatFieldWords,
  OTHER_CAMERA,
} from '../../ui/words/flat-field.ts'
import { photoRefusalNotice } from '../../ui/words/photo-refusals.ts'
import { Opener } from './opener.tsx'

type Found =
  | { readonly kind: 'looking' }
  | { readonly kind: 'unopened'; readonly name: string; readonly error: unknown }
  | Exclude<FlatFieldPhoto, { kind: 'measured' }>

/** What the lenses of a camera do to colour between middle and corners: one photo of a white sheet. */
export function FlatFields({
  device,
  fields,
}: {
  device: string
  fields: readonly StoredFlatField[]
}) {
  const { now } = useServices()
  const { busy, run } = useSaving()
  const open = useSignal(false)
  const found = useSignal<Found | null>(null)
  const asked = useSignal(0)
  useEffect(
    () => () => {
      asked.value++
    },
    [],
  )
  const look = async (file: File) => {
    const mine = ++asked.value
    const tell = (result: Found | null) => {
      if (asked.peek() === mine) found.value = result
    }
    tell({ kind: 'looking' })
    try {
      const result = await flatFieldFromPhoto(file, device, now())
      if (asked.peek() !== mine) return
      if (result.kind !== 'measured') return tell(result)
      const { kept } = result
      const others = fields.filter(
        ({ lens, channels }) => lens !== kept.lens || channels !== kept.channels,
      )
      tell(null)
      await run(async (log) => {
        await changeCamera(log, device, { flatFields: [...others, kept] }, now())
        say(FLAT_FIELD_WORDS.kept)
      })
    } catch (error) {
      tell({ kind: 'unopened', name: file.name, error })
    }
  }
  const forget = (one: StoredFlatField) =>
    run(async (log) => {
      const flatFields = fields.filter((other) => other !== one)
      await changeCamera(log, device, { flatFields }, now())
      const undo = () =>
        void run((again) => changeCamera(again, device, { flatFields: [...fields] }, now()))
      say(FLAT_FIELD_WORDS.forgotten, { label: 'Undo', run: undo })
    })
  const state = found.value
  return (
    <section class="stack" aria-label={`${FLAT_FIELD_WORDS.name}, ${device}`}>
      {fields.map((one) => (
        <p key={`${one.lens} ${one.channels}`}>
          {FLAT_FIELD_WORDS.name}
          {one.channels === 'camera' && ', raw'}: {flatFieldWords(one.field)}{' '}
          <span class="small soft">
            {[one.lens, showDay(one.at)].filter((word) => word !== null).join(', ')}
          </span>
          {open.value && (
            <button type="button" disabled={busy.value} onClick={() => void forget(one)}>
              Forget it
            </button>
          )}
        </p>
      ))}
      {open.value && (
        <>
          <p class="small soft">{FLAT_FIELD_WORDS.doing}</p>
          <FileButton
            accept={PHOTO_TYPES}
            onFiles={([file]) => {
              if (file) void look(file)
            }}
          >
            {FLAT_FIELD_WORDS.ask}
          </FileButton>
          <div aria-live="polite">
            {state?.kind === 'looking' && <p>Looking …</p>}
            {state?.kind === 'refused' && (
              <Notices notices={[flatFieldRefusalNotice(state.reason)]} />
            )}
            {state?.kind === 'other camera' && <Notices notices={[OTHER_CAMERA]} />}
            {state?.kind === 'unopened' && <Unopened {...state} />}
          </div>
        </>
      )}
      <Opener open={open} toOpen="Flat field of the lens" toClose="Close the flat field" />
    </section>
  )
}

function Unopened({ error, name }: { error: unknown; name: string }) {
  const notice = photoRefusalNotice({ error, name })
  return notice && <Notices notices={[notice]} />
}
