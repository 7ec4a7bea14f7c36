import { useEffect, useMemo } from 'preact/hooks'
import { kindOpen } from '../../light/exposure-sweep/sweep-result.ts'
import { NO_DRAFT } from '../../session/draft.ts'
import type { ReadyJob } from '../../session/kit/ready-job.ts'
import { storeFoundCurve } from '../../session/kit/store-curve.ts'
import { createReadingModel } from '../../session/reading/reading-model.ts'
import { useServices } from '../../session/services.ts'
import { prepareForPhoto } from '../../sources/photo/photo-workers.ts'
import { FileButton, PHOTO_TYPES } from '../../ui/file-button.tsx'
import { Notices } from '../../ui/notices.tsx'
import { OpeningPanel } from '../../ui/photo/opening-panel.tsx'
import { SweepPanel, SweepRefusalPanel } from '../../ui/photo/sweep-panel.tsx'
import { say } from '../../ui/spoken.tsx'
import { useSaving } from '../../ui/use-saving.ts'
import { photoRefusalNotice } from '../../ui/words/photo-refusals.ts'

/** An exposure sweep of any glow: its curve is kept for the camera. */
export function SweepStep({ job, onDone }: { job: ReadyJob; onDone: () => void }) {
  const { kit, now } = useServices()
  const { run, busy } = useSaving()
  const reading = useMemo(() => createReadingModel(kit, NO_DRAFT, { usual: false }), [kit])
  useEffect(() => () => reading.dispose(), [reading])
  const sweep = reading.sweep.value
  const result = sweep?.result.value
  const opening = reading.glow.opening.value
  const refusal = photoRefusalNotice(reading.glow.refusal.value)
  const store = () =>
    run(async (log) => {
      const facts = reading.glow.photo.peek()?.facts
      if (!facts) return
      await job.seen(log, facts)
      if (await storeFoundCurve(log, reading, now())) say('Tone curve kept.')
      onDone()
    })
  if (opening) return <OpeningPanel opening={opening} onCancel={() => reading.glow.cancel()} />
  return (
    <>
      {refusal && <Notices notices={[refusal]} />}
      {!sweep && (
        <p class="small soft">One photo will do to begin: it shows which exposures to take.</p>
      )}
      {sweep && (
        <>
          <SweepRefusalPanel model={reading} sweep={sweep} />
          <SweepPanel model={reading} sweep={sweep} />
        </>
      )}
      {result?.kind === 'measured' && !kindOpen(result) ? (
        <button
          type="button"
          class="primary wide"
          disabled={busy.value}
          onClick={() => void store()}
        >
          Keep this curve
        </button>
      ) : (
        <FileButton
          primary={!sweep}
          multiple
          accept={PHOTO_TYPES}
          onAsk={prepareForPhoto}
          onFiles={(files) => void reading.openSweep(files)}
        >
          {sweep ? 'Open others instead' : 'Open the sweep’s photos'}
        </FileButton>
      )}
    </>
  )
}
