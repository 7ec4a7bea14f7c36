import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { readingHands } from '../../sources/work-in-hand.ts'
import { FileButton } from '../../ui/file-button.tsx'

/** A photo above the chart, to be compared like for like in the view of this camera. */
export function PhotoBeside() {
  const url = useSignal<string | null>(null)
  const show = (blob: Blob) => {
    if (url.value) URL.revokeObjectURL(url.value)
    url.value = URL.createObjectURL(blob)
  }
  useEffect(
    () => () => {
      if (url.value) URL.revokeObjectURL(url.value)
    },
    [url],
  )
  if (url.value) {
    return (
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
    )
  }
  return (
    <div class="two-up no-print">
      <FileButton accept="image/*" onFiles={([file]) => file && show(file)}>
        Photo beside it
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
