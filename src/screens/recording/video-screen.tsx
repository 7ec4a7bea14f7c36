import { useComputed } from '@preact/signals'
import { useEffect, useMemo, useRef } from 'preact/hooks'
import { photoToRead } from '../../session/reading/photo-to-read.ts'
import { createVideoModel, type VideoModel } from '../../session/recording/video-model.ts'
import { useServices } from '../../session/services.ts'
import { FileButton } from '../../ui/file-button.tsx'
import { MaterialPicker, UNSTATED } from '../../ui/material-picker.tsx'
import { Notices } from '../../ui/notices.tsx'
import { NumberField } from '../../ui/number-field.tsx'
import { useSurfaceOfObject } from '../../ui/object-surface.ts'
import { go } from '../../ui/router.ts'
import { Segments } from '../../ui/segments.tsx'
import { SelectField } from '../../ui/select-field.tsx'
import { TextField } from '../../ui/text-field.tsx'
import { showDuration } from '../../ui/words/duration.ts'
import {
  EXPOSURE_LOCKED,
  NO_DECODER,
  noticeOfVideoFailure,
  SLOW_MOTION,
  VIDEO_ADVICE,
} from '../../ui/words/video.ts'
import styles from './recording.module.css'
import { restOfRecordings } from './recording-place.ts'

export const VIDEO_TYPES = 'video/*,.mp4,.mov,.m4v,.webm,.mkv'

/** A film of a glow becomes a recording. */
export function VideoScreen() {
  const { log, kit } = useServices()
  const model = useMemo(() => createVideoModel(log, kit), [log, kit])
  useEffect(() => () => model.dispose(), [model])
  const { choices } = model
  const unsaid = () => choices.peek().materialId === UNSTATED
  const object = useComputed(() => choices.value.object)
  useSurfaceOfObject(object, unsaid, ({ materialId, cover }) => {
    choices.value = { ...choices.peek(), materialId, cover }
  })
  const file = model.file.value
  const facts = model.facts.value
  const failure = noticeOfVideoFailure(model.failure.value)
  const progress = model.progress.value
  const busy = progress !== null
  return (
    <main class="screen">
      <header>
        <a class="button" href="/log/recordings">
          Back
        </a>
        <h1>From a video</h1>
      </header>
      {!busy && (
        <FileButton
          accept={VIDEO_TYPES}
          primary={!file}
          onFiles={([first]) => first && void model.open(first)}
        >
          {file ? 'Another video' : 'Open a video'}
        </FileButton>
      )}
      {!file && <p class="soft">{VIDEO_ADVICE}</p>}
      {failure && <Notices notices={[failure]} />}
      {file && !facts && !failure && <p class="soft">Opening {file.name} …</p>}
      {facts && (
        <div class={styles.columns}>
          <div class="stack">
            <Preview model={model} />
            {!busy && <PausedPicture model={model} seconds={facts.durationSeconds} />}
            <p class="soft small">
              {showDuration(facts.durationSeconds)} · {facts.width} × {facts.height} ·{' '}
              {Math.round(facts.frameRate)} pictures a second · {facts.codec.toUpperCase()}
            </p>
            {!facts.decodable && <Notices notices={[NO_DECODER]} />}
            {busy ? (
              <div class="stack" role="status">
                <progress class={styles.progress} max={1} value={progress} />
                <p>
                  {Math.floor(100 * progress)} %
                  {model.secondsLeft.value !== null &&
                    `, ${showDuration(model.secondsLeft.value)} left`}
                </p>
                <button type="button" onClick={() => model.cancel()}>
                  Cancel
                </button>
              </div>
            ) : (
              <button
                type="button"
                class="primary wide"
                disabled={choices.value.materialId === UNSTATED}
                onClick={() =>
                  void model.read().then((id) => id && go('log', restOfRecordings(id)))
                }
              >
                {choices.value.materialId === UNSTATED
                  ? 'Choose the surface first'
                  : 'Read the curve'}
              </button>
            )}
          </div>
          {!busy && <Choices model={model} />}
        </div>
      )}
    </main>
  )
}

/** Where the film is paused, and its picture as a photo: figure, map and log as for any other. */
function PausedPicture({ model, seconds }: { model: VideoModel; seconds: number }) {
  const at = model.paused.value
  const read = async () => {
    const still = await model.still()
    if (!still) return
    photoToRead.value = still
    go('reading')
  }
  return (
    <div class="stack">
      <label class={styles.pause}>
        Picture at {at.toFixed(1)} s
        <input
          type="range"
          min="0"
          max={seconds}
          step="0.1"
          value={at}
          onInput={({ currentTarget }) => void model.pauseAt(Number(currentTarget.value))}
        />
      </label>
      <button type="button" onClick={() => void read()}>
        Read this picture, map its heat
      </button>
    </div>
  )
}

/** The picture at which it is paused; a tap sets a fixed place. */
function Preview({ model }: { model: VideoModel }) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const picture = model.preview.value
  const fixed = model.fixed.value
  useEffect(() => {
    if (!canvas.current || !picture) return
    canvas.current.width = picture.width
    canvas.current.height = picture.height
    canvas.current.getContext('2d')?.drawImage(picture, 0, 0)
  }, [picture])
  return (
    <div class="stack">
      <div class={styles.preview}>
        <canvas
          ref={canvas}
          aria-label="Picture of the video"
          onPointerDown={(event) => {
            if (!fixed) return
            const box = event.currentTarget.getBoundingClientRect()
            model.fixed.value = {
              x: (event.clientX - box.left) / box.width,
              y: (event.clientY - box.top) / box.height,
            }
          }}
        />
        {fixed && (
          <span
            class={styles.sight}
            style={{ left: `${100 * fixed.x}%`, top: `${100 * fixed.y}%` }}
          />
        )}
      </div>
      <Segments
        of={[
          ['follow', 'Follow the glow'],
          ['fixed', 'Fixed place'],
        ]}
        chosen={fixed ? 'fixed' : 'follow'}
        onChoose={(value) => {
          model.fixed.value = value === 'fixed' ? { x: 0.5, y: 0.5 } : null
        }}
      />
      {fixed && <p class="soft small">Tap the picture where to read.</p>}
    </div>
  )
}

function Choices({ model }: { model: VideoModel }) {
  const choices = model.choices.value
  const devices = useServices().kit.cameras.value.map(({ data }) => data.device)
  const set = (change: Partial<typeof choices>) => {
    model.choices.value = { ...model.choices.peek(), ...change }
  }
  return (
    <div class="stack">
      <TextField
        label="Object"
        value={choices.object}
        onValue={(object) => {
          set({ object })
        }}
      />
      <MaterialPicker
        unstated
        materialId={choices.materialId}
        onMaterial={(materialId) => {
          set({ materialId })
        }}
      />
      {devices.length > 0 && (
        <SelectField
          label="Filmed with"
          value={choices.device}
          of={[['', 'Another camera'], ...devices.map((name) => [name, name] as const)]}
          onValue={(device) => {
            set({ device })
          }}
        />
      )}
      <SelectField
        label="White balance while filming"
        value={choices.balanceState}
        of={[
          ['unknown', 'Not known'],
          ['automatic', 'Automatic'],
          ['locked', 'Locked'],
          ['daylight', 'Locked on daylight'],
        ]}
        onValue={(balanceState) => {
          set({ balanceState })
        }}
      />
      <SelectField
        label="Exposure while filming"
        value={choices.exposure}
        of={[
          ['unknown', 'Automatic, or not known'],
          ['locked', 'Locked'],
        ]}
        onValue={(exposure) => {
          set({ exposure })
        }}
      />
      {choices.exposure === 'locked' && <p class="soft small">{EXPOSURE_LOCKED}</p>}
      <details>
        <summary>Slow motion</summary>
        <div class="inside">
          <NumberField
            label="Times slower"
            value={choices.slowedBy}
            min={1}
            max={64}
            onValue={(slowedBy) => {
              set({ slowedBy: slowedBy ?? 1 })
            }}
          />
          <p class="soft small">{SLOW_MOTION}</p>
        </div>
      </details>
    </div>
  )
}
