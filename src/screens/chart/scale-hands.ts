import { useComputed } from '@preact/signals'
import type { RefObject } from 'preact'
import { useEffect, useRef } from 'preact/hooks'
import type { ChartModel } from '../../session/chart/chart-model.ts'
import { panSpan, temperatureAt, WHOLE, zoomSpan } from '../../session/chart/scale.ts'
import { showTemperature } from '../../ui/temperature.ts'
import { chapmanWords } from '../../ui/words/heat-names.ts'

/** Finger, mouse and keyboard on a vertical scale; hot is up. Two fingers zoom and pan. */
export function useScaleHands(model: ChartModel, box: RefObject<HTMLElement | null>) {
  const fingers = useRef(new Map<number, number>())
  const valueNow = useComputed(() => Math.round(model.cursorK.value))
  const valueText = useComputed(() => {
    const kelvin = model.cursorK.value
    return `${showTemperature(kelvin)}, ${chapmanWords(kelvin, kelvin)}`
  })

  const temperatureOf = (clientY: number) => {
    const rectangle = box.current?.getBoundingClientRect()
    if (!rectangle) return model.cursorK.peek()
    const y = Math.min(rectangle.height, Math.max(0, clientY - rectangle.top))
    return temperatureAt(y, model.span.peek(), rectangle.height)
  }

  const onPointer = (event: PointerEvent) => {
    if (event.type === 'pointerdown') box.current?.setPointerCapture(event.pointerId)
    else if (!fingers.current.has(event.pointerId)) return
    const before = new Map(fingers.current)
    fingers.current.set(event.pointerId, event.clientY)
    if (fingers.current.size === 1) {
      model.cursorK.value = temperatureOf(event.clientY)
      return
    }
    const [a, b] = [...fingers.current.keys()]
    if (a === undefined || b === undefined || before.size < 2) return
    const gap = (of: Map<number, number>) => Math.abs((of.get(a) ?? 0) - (of.get(b) ?? 0))
    const middle = ((fingers.current.get(a) ?? 0) + (fingers.current.get(b) ?? 0)) / 2
    const former = ((before.get(a) ?? 0) + (before.get(b) ?? 0)) / 2
    const about = temperatureOf(middle)
    const zoomed = zoomSpan(
      model.span.peek(),
      Math.max(1, gap(fingers.current)) / Math.max(1, gap(before)),
      about,
    )
    model.span.value = panSpan(zoomed, temperatureOf(former) - about)
  }
  const onRelease = (event: PointerEvent) => fingers.current.delete(event.pointerId)

  useEffect(() => {
    const element = box.current
    if (!element) return
    // Not passive: the wheel zooms the chart and does not scroll the page while it is held over it.
    const onWheel = (event: WheelEvent) => {
      event.preventDefault()
      const about = temperatureOf(event.clientY)
      model.span.value = zoomSpan(model.span.peek(), event.deltaY < 0 ? 1.2 : 1 / 1.2, about)
    }
    element.addEventListener('wheel', onWheel, { passive: false })
    return () => element.removeEventListener('wheel', onWheel)
  }, [model])

  const onKeyDown = (event: KeyboardEvent) => {
    const step = event.shiftKey ? 50 : 5
    const moves: Record<string, number> = {
      ArrowUp: step,
      ArrowRight: step,
      ArrowDown: -step,
      ArrowLeft: -step,
      PageUp: 100,
      PageDown: -100,
    }
    const move = moves[event.key]
    const [span, cursorK] = [model.span.peek(), model.cursorK.peek()]
    if (move !== undefined) moveCursor(model, move)
    else if (event.key === 'Home') model.cursorK.value = span.lowK
    else if (event.key === 'End') model.cursorK.value = span.highK
    else if (event.key === '+' || event.key === '=') {
      model.span.value = zoomSpan(span, 1.25, cursorK)
    } else if (event.key === '-') model.span.value = zoomSpan(span, 0.8, cursorK)
    else return
    event.preventDefault()
  }

  return {
    role: 'slider' as const,
    tabIndex: 0,
    'aria-label': 'Heat colours: place on the scale',
    'aria-orientation': 'vertical' as const,
    'aria-valuemin': Math.round(WHOLE.lowK),
    'aria-valuemax': Math.round(WHOLE.highK),
    'aria-valuenow': valueNow,
    'aria-valuetext': valueText,
    onPointerDown: onPointer,
    onPointerMove: onPointer,
    onPointerUp: onRelease,
    onPointerCancel: onRelease,
    onKeyDown,
  }
}

/** Moves the pointer, and the view with it where it would leave. */
export function moveCursor(model: ChartModel, byK: number): void {
  const next = Math.min(WHOLE.highK, Math.max(WHOLE.lowK, model.cursorK.peek() + byK))
  const span = model.span.peek()
  model.cursorK.value = next
  if (next > span.highK || next < span.lowK) model.span.value = panSpan(span, byK)
}
