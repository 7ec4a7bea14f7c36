import type { Signal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { readingHands } from '../../sources/work-in-hand.ts'
import { FileButton } from '../../ui/file-button.tsx'

/** A photo above the chart, to be compared like for like in the view of this camera. */
export function PhotoBeside({ url }: { url: Signal<string | null> }) {
  useEffect(
    () => () => {
      if (url.value) URL.revokeObjectURL(url.value)
    },
    [url],
  )
  return url.value ? (
    <div class="photo-beside no-print">
      <img src={url.value} alt="Yours, to hold against the chart" />
      <button
        type="button"
        onClick={() => {
          url.value = null
        }}
      >
        Put away
      </button>
    </div>
  ) : null
}

/** Which photo: one from the device, or the one that is being read. */
export function ChoosePhotoBeside({ url }: { url: Signal<string | null> }) {
  const show = (blob: Blob) => {
    if (url.value) URL.revokeObjectURL(url.value)
    url.value = URL.createObjectURL(blob)
  }
  return (
    <div class="two-up no-print">
      <FileButton accept="image/*" onFiles={([file]) => file && show(file)}>
        A photo beside it
      </FileButton>
      <button
        type="button"
        onClick={() => void readingHands.work().then((work) => work && show(work.blob))}
      >
        The one being read
      </button>
    </div>
  )
}
