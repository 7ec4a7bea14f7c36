import { useLayoutEffect, useRef } from 'preact/hooks'
import { openLayer } from './router.ts'

/** While something stands open, the browser's Back closes it before it leads away. */
export function useLayer(open: boolean, close: () => void): void {
  const latest = useRef(close)
  latest.current = close
  // Before it is drawn: who sees it can press Back.
  useLayoutEffect(() => (open ? openLayer(() => latest.current()) : undefined), [open])
}
