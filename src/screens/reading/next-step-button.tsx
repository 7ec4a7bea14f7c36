import { useSignal } from '@preact/signals'
import { useRef } from 'preact/hooks'
import type { BalanceState } from '../../estimate/types.ts'
import { rememberLock } from '../../session/kit/camera-store.ts'
import { firstCardFrame, LAMP_ON_CARD } from '../../session/reading/find-card.ts'
import type { NextStep } from '../../session/reading/next-step.ts'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { useServices } from '../../session/services.ts'
import { FileButton, PHOTO_TYPES } from '../../ui/file-button.tsx'
import { LockChoices } from '../../ui/lock-choices.tsx'
import { MaterialPicker } from '../../ui/material-picker.tsx'
import { go } from '../../ui/router.ts'
import { say } from '../../ui/spoken.tsx'
import { useSaving } from '../../ui/use-saving.ts'
import { nextStepWords } from '../../ui/words/next-step.ts'
import { CameraNameField } from './camera-name-field.tsx'
import style from './result.module.css'

/** The one button below a figure: it does the step that helps most. */
export function NextStepButton({
  step,
  model,
  onCard,
  onPlace,
  onOpen,
}: {
  step: NextStep
  model: ReadingModel
  /** A card photo was opened: the frame is to be placed on it. */
  onCard: () => void
  /** The card lies in the picture of the glow: the frame is to be put on it. */
  onPlace: () => void
  /** The glow was photographed again. */
  onOpen: (file: File) => void
}) {
  const dialog = useRef<HTMLDialogElement>(null)
  const { label, line } = nextStepWords(step)
  const text = (
    <span class={style.step}>
      {label}
      {line && <span class="small">{line}</span>}
    </span>
  )
  const asking = useSignal(false)
  const ask = (
    <button
      type="button"
      class="primary wide"
      onClick={() => {
        asking.value = true
        dialog.current?.showModal()
      }}
    >
      {text}
    </button>
  )
  const to = (rest: string, place: 'kit' | 'reading' | 'chart' = 'kit') => (
    <button type="button" class="primary wide" onClick={() => go(place, rest)}>
      {text}
    </button>
  )
  switch (step.kind) {
    case 'add card':
    case 'card again':
      return (
        <FileButton
          primary
          accept={PHOTO_TYPES}
          onFiles={([file]) => {
            if (!file) return
            onCard()
            void model.openCard(file, file.name)
          }}
        >
          {text}
        </FileButton>
      )
    case 'expose longer':
    case 'expose less':
      return (
        <FileButton
          primary
          accept="image/*"
          capture="environment"
          onFiles={([file]) => file && onOpen(file)}
        >
          {text}
        </FileButton>
      )
    case 'open raw':
      return (
        <FileButton primary accept={PHOTO_TYPES} onFiles={([file]) => file && onOpen(file)}>
          {text}
        </FileButton>
      )
    case 'place card':
      return (
        <button
          type="button"
          class="primary wide"
          onClick={() => {
            const photo = model.glow.photo.peek()
            if (!photo) return
            model.cardLight.value = LAMP_ON_CARD
            model.startCardHere(firstCardFrame(photo))
            onPlace()
          }}
        >
          {text}
        </button>
      )
    case 'lock':
      return to('ready/lock')
    case 'sweep':
      return to('ready/sweep')
    case 'known heat':
      return to(`ready/heat/${step.heat}`)
    case 'test infrared':
      return to(`infrared/${model.device.peek()}`)
    case 'by eye':
      return to('by-eye', 'chart')
    case 'check':
      return to('check', 'reading')
    case 'name camera':
    case 'state white balance':
    case 'same settings':
    case 'state surface':
      return (
        <>
          {ask}
          <dialog
            ref={dialog}
            aria-label={label}
            onClose={() => {
              asking.value = false
            }}
          >
            {asking.value && (
              <Question step={step} model={model} onDone={() => dialog.current?.close()} />
            )}
          </dialog>
        </>
      )
  }
}

function Question({
  step,
  model,
  onDone,
}: {
  step: NextStep
  model: ReadingModel
  onDone: () => void
}) {
  const state = useStateBalance(model)
  if (step.kind === 'name camera') return <CameraNameField model={model} onDone={onDone} />
  if (step.kind === 'state surface') {
    return (
      <form method="dialog" class="stack">
        <MaterialPicker
          unstated
          materialId={model.choices.value.materialId}
          onMaterial={(materialId) => {
            model.choices.value = { ...model.choices.value, materialId }
          }}
        />
        <button type="submit" class="primary">
          Done
        </button>
      </form>
    )
  }
  const answer = (balanceState: BalanceState) => {
    onDone()
    void state(balanceState)
  }
  return (
    <div class="stack">
      <h2>How was white balance set?</h2>
      <p class="soft">Kept for this camera until a photo says otherwise.</p>
      <LockChoices onState={answer}>
        <button
          type="button"
          class="wide"
          onClick={() => answer({ kind: 'automatic', colourTemperatureK: null })}
        >
          Automatic
        </button>
        <button type="button" class="plain wide" onClick={onDone}>
          I do not know
        </button>
      </LockChoices>
    </div>
  )
}

/** States the white balance of the open photo, and keeps a lock for its camera. */
function useStateBalance(model: ReadingModel) {
  const { now } = useServices()
  const { run } = useSaving()
  return (balanceState: BalanceState) => {
    model.choices.value = { ...model.choices.value, balanceState }
    const facts = model.glow.photo.peek()?.facts
    const device = model.device.peek()
    if (!facts || device === '' || balanceState.kind === 'automatic') return
    return run(async (log) => {
      await rememberLock(log, device, facts, balanceState, now())
      say(`Kept for ${device}.`)
    })
  }
}
