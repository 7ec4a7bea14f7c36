import { useSignal } from '@preact/signals'
import { Fragment } from 'preact'
import { useEffect, useRef } from 'preact/hooks'
import type { MeasuredExposure } from '../../estimate/exposure-test.ts'
import { changeCamera } from '../../session/kit/camera-store.ts'
import {
  type ExposurePhotosRefusal,
  readExposurePhotos,
} from '../../session/kit/exposure-photos.ts'
import { useServices } from '../../session/services.ts'
import { FileButton, PHOTO_TYPES } from '../../ui/file-button.tsx'
import { Notices } from '../../ui/notices.tsx'
import { useSaving } from '../../ui/use-saving.ts'
import { showDay } from '../../ui/words/dates.ts'
import {
  EXPOSURE_TEST_ASK,
  exposureRefusal,
  offWords,
  settingWords,
} from '../../ui/words/exposures.ts'
import { Opener } from './opener.tsx'

/** Whether a camera's exposure labels are true: raw photos of one scene, and what is kept of them. */
export function ExposurePanel({
  device,
  exposures,
  since,
}: {
  device: string
  exposures: readonly MeasuredExposure[]
  /** ISO 8601; empty where none were kept. */
  since: string
}) {
  const { now } = useServices()
  const { busy, run } = useSaving()
  const open = useSignal(false)
  const progress = useSignal<number | null>(null)
  const found = useSignal<readonly MeasuredExposure[] | null>(null)
  const refusal = useSignal<ExposurePhotosRefusal | null>(null)
  const reading = useRef<AbortController | null>(null)
  useEffect(() => () => reading.current?.abort(), [])
  const read = async (files: readonly File[]) => {
    reading.current?.abort()
    const mine = new AbortController()
    reading.current = mine
    found.value = null
    refusal.value = null
    progress.value = 0
    try {
      const answer = await readExposurePhotos(files, device, {
        signal: mine.signal,
        onProgress: (share) => {
          progress.value = share
        },
      })
      if (answer.kind === 'measured') found.value = answer.exposures
      else refusal.value = answer.refusal
    } catch {
      // Cancelled: later photos, or the panel was closed.
    } finally {
      if (reading.current === mine) progress.value = null
    }
  }
  const keep = (kept: readonly MeasuredExposure[]) =>
    run(async (log) => {
      const at = now()
      const exposuresAt = kept.length > 0 ? at.toISOString() : ''
      await changeCamera(log, device, { exposures: [...kept], exposuresAt }, at)
      found.value = null
    })
  const shown = found.value ?? (open.value ? exposures : [])
  return (
    <section class="stack" aria-label={`Exposures, ${device}`}>
      {exposures.length > 0 && (
        <p>
          Exposure labels: {exposures.length} measured{since && `, ${showDay(since)}`}.
        </p>
      )}
      {open.value && (
        <>
          <p class="small soft">{EXPOSURE_TEST_ASK}</p>
          {progress.value === null ? (
            <FileButton accept={PHOTO_TYPES} multiple onFiles={(files) => void read([...files])}>
              Raw photos of one scene
            </FileButton>
          ) : (
            <>
              <progress value={progress.value} aria-label="Reading the photos" />
              <button type="button" onClick={() => reading.current?.abort()}>
                Stop
              </button>
            </>
          )}
          {refusal.value && <Notices notices={[exposureRefusal(refusal.value)]} />}
          {shown.length > 0 && (
            <>
              <p>Light over what the label says, against the mean of all:</p>
              <dl class="facts" aria-label="Light over what the label says">
                {shown.map((one) => (
                  <Fragment key={settingWords(one)}>
                    <dt>{settingWords(one)}</dt>
                    <dd>{offWords(one)}</dd>
                  </Fragment>
                ))}
              </dl>
            </>
          )}
          {found.value && (
            <button
              type="button"
              class="primary wide"
              disabled={busy.value}
              onClick={() => found.value && void keep(found.value)}
            >
              Keep these
            </button>
          )}
          {!found.value && exposures.length > 0 && (
            <button type="button" class="wide" disabled={busy.value} onClick={() => void keep([])}>
              Forget them
            </button>
          )}
        </>
      )}
      <Opener open={open} toOpen="Test the exposure labels" toClose="Close the exposure test" />
    </section>
  )
}
