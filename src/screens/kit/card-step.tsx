import { useEffect, useMemo } from 'preact/hooks'
import { changeCamera } from '../../session/kit/camera-store.ts'
import type { ReadyJob } from '../../session/kit/ready-job.ts'
import { storeCard } from '../../session/kit/store-card.ts'
import { LAMP_ON_CARD, middleOf, placeIn } from '../../session/reading/find-card.ts'
import { createGreyModel } from '../../session/reading/grey-model.ts'
import { createPhotoSlot } from '../../session/reading/photo-slot.ts'
import { cardHeld, cardMoved, cardUndecided } from '../../session/reading/stored-for-photo.ts'
import { useServices } from '../../session/services.ts'
import { lookAtPhoto } from '../../sources/photo/photo-look.ts'
import { prepareForPhoto } from '../../sources/photo/photo-workers.ts'
import { CardLightPicker } from '../../ui/card-light-picker.tsx'
import { FileButton, PHOTO_TYPES } from '../../ui/file-button.tsx'
import { Notices } from '../../ui/notices.tsx'
import { OpeningPanel } from '../../ui/photo/opening-panel.tsx'
import { RegionStage } from '../../ui/region-stage.tsx'
import { say } from '../../ui/spoken.tsx'
import { useSaving } from '../../ui/use-saving.ts'
import { greyNotice } from '../../ui/words/grey-findings.ts'
import { contradictionNotice, lockHeldNotice, undecidedNotice } from '../../ui/words/next-step.ts'
import { photoRefusalNotice } from '../../ui/words/photo-refusals.ts'

/**
 * A photo of the grey card: the frame on it, the light that lit it. Of a camera that cannot be locked
 * only the card's place is kept.
 */
export function CardStep({ job, onDone }: { job: ReadyJob; onDone: () => void }) {
  const { kit, now } = useServices()
  const { run, busy } = useSaving()
  const glow = useMemo(createPhotoSlot, [])
  const grey = useMemo(() => createGreyModel(glow), [glow])
  useEffect(() => () => grey.disposeGrey(), [grey])
  const beside = job.way.value === 'card in picture'
  useEffect(() => {
    if (beside) grey.cardLight.value = LAMP_ON_CARD
  }, [beside, grey])
  const open = ([file]: readonly File[]) => {
    if (file) void openCard(file)
  }
  const openCard = async (file: File) => {
    await grey.openCard(file, file.name)
    // Where nothing like a card is seen, or the file is refused, the frame stays in the middle.
    const look = await lookAtPhoto(file).catch(() => null)
    if (look?.neutralBox && grey.other.photo.peek()) {
      grey.setCardRegion(middleOf(look, look.neutralBox))
    }
  }
  const { opening, photo: opened, marksUrl } = grey.other
  const photo = opened.value
  const region = grey.cardRegion.value
  const card = grey.card.value
  const balance = grey.balance.value
  const refusal = photoRefusalNotice(grey.other.refusal.value)
  const before = job.profile.value.greys[0]
  const fresh = photo && balance && { balance, channels: photo.channels }
  const moved = fresh && before && cardMoved(fresh, before)
  const held = fresh && before && cardHeld(fresh, before)
  const undecided = fresh && before && cardUndecided(fresh, before)
  const store = () =>
    run(async (log) => {
      const facts = photo?.facts
      if (!facts) return
      await job.seen(log, facts)
      if (beside && region && job.device.peek() !== '') {
        const cardPlace = placeIn(photo, region)
        await changeCamera(log, job.device.peek(), { cardPlace }, now())
        say('The card’s place is kept.')
        onDone()
        return
      }
      if (held) await job.lockHeld(log)
      const lock = job.lock()
      const balanceKind =
        photo.channels === 'camera' ? 'raw' : lock?.kind === 'locked' ? lock.state.kind : 'unknown'
      const named = facts.model ? facts : { ...facts, model: job.device.peek() || null }
      const inHand = { ...grey, glow, balanceKind, facts: named, simulated: false }
      await storeCard(log, inHand, kit.greys.peek(), '', now())
      say('Card kept.')
      onDone()
    })
  if (opening.value)
    return <OpeningPanel opening={opening.value} onCancel={() => grey.other.cancel()} />
  if (!photo || !region) {
    return (
      <>
        {refusal && <Notices notices={[refusal]} />}
        <FileButton
          primary
          accept="image/*"
          capture="environment"
          onAsk={prepareForPhoto}
          onFiles={open}
        >
          {beside ? 'Photograph glow and card' : 'Take the card’s photo'}
        </FileButton>
        <FileButton accept={PHOTO_TYPES} onAsk={prepareForPhoto} onFiles={open}>
          {beside ? 'Open a photo of both' : 'Open a photo of the card'}
        </FileButton>
      </>
    )
  }
  return (
    <>
      <RegionStage
        pictureUrl={photo.pictureUrl}
        marksUrl={marksUrl.value}
        photo={photo}
        region={region}
        label="Grey card region"
        onRegion={grey.setCardRegion}
      />
      <CardLightPicker
        light={grey.cardLight.value}
        onLight={(light) => {
          grey.cardLight.value = light
        }}
      />
      {card && <Notices notices={card.findings.map(greyNotice)} />}
      {moved && <Notices notices={[contradictionNotice(moved)]} />}
      {undecided && <Notices notices={[undecidedNotice(undecided)]} />}
      {held && <Notices notices={[lockHeldNotice(before.name)]} />}
      <div class="row">
        <button type="button" class="grow" onClick={() => grey.other.close()}>
          Another photo
        </button>
        <button
          type="button"
          class="primary grow"
          disabled={!balance || busy.value}
          onClick={() => void store()}
        >
          {beside ? 'The card lies here' : 'Keep this card'}
        </button>
      </div>
    </>
  )
}
