/** Keys that save: of keyboards, Bluetooth shutters, and volume keys where the browser hands them on. */
const KEYS = new Set(['Enter', ' ', 'AudioVolumeUp', 'AudioVolumeDown', 'VolumeUp', 'VolumeDown'])

/** Calls back for a shutter key, unless the key belongs to a control that has the focus. */
export function shutterKeys(save: () => void): () => void {
  const onKey = (event: KeyboardEvent) => {
    if (!KEYS.has(event.key) || event.repeat) return
    const control = (event.target as Element | null)?.closest?.(
      'button, a, input, select, textarea, summary',
    )
    if (control && (event.key === 'Enter' || event.key === ' ')) return
    event.preventDefault()
    save()
  }
  // A tapped button keeps the focus, and the shutter's Enter would press it again. Keyboards and
  // screen readers click without a pointer.
  const onClick = (event: MouseEvent) => {
    if (!(event as PointerEvent).pointerType) return
    ;(event.target as Element | null)?.closest('button')?.blur()
  }
  addEventListener('keydown', onKey)
  addEventListener('click', onClick)
  return () => {
    removeEventListener('keydown', onKey)
    removeEventListener('click', onClick)
  }
}
