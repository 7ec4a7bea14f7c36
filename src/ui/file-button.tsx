import type { ComponentChildren } from 'preact'

/** A picker that looks like a button: the file input itself lies unseen inside the label. */
export function FileButton({
  children,
  accept,
  capture,
  multiple = false,
  primary = false,
  onAsk,
  onFiles,
}: {
  children: ComponentChildren
  accept: string
  capture?: 'environment'
  multiple?: boolean
  primary?: boolean
  /** The picker is about to open: time for what the files will need. */
  onAsk?: () => void
  onFiles: (files: readonly File[]) => void
}) {
  return (
    <label class={`button wide ${primary ? 'primary' : ''}`}>
      {children}
      <input
        class="unseen"
        type="file"
        accept={accept}
        multiple={multiple}
        {...(capture ? { capture } : {})}
        onClick={onAsk}
        onChange={(event) => {
          const input = event.currentTarget
          const files = [...(input.files ?? [])]
          // The same file may be chosen again after a mistake.
          input.value = ''
          if (files.length > 0) onFiles(files)
        }}
      />
    </label>
  )
}

/** Pictures, and raw files, which some systems list under no picture type at all. */
export const PHOTO_TYPES = 'image/*,.dng,image/x-adobe-dng'
