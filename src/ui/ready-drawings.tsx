import type { StepId } from '../session/kit/camera-data.ts'
import style from './ready-drawings.module.css'

/** `card beside`: the card in the picture of the glow. */
type DrawingId = StepId | 'card beside'

const WORDS: Record<DrawingId, string> = {
  lock: 'A phone with a lock and a sun on its screen',
  card: 'A phone above a grey card, lit by the sky',
  'card beside': 'A phone on a stand before a glowing bar; beside it a grey card under a lamp',
  sweep: 'A phone on a stand before a glowing bar; below, pictures of it getting darker',
  heat: 'A phone beside a piece of metal with a pinch of salt on it, a flame below',
}

/** The set-up of a step, as a line drawing. */
export function ReadyDrawing({ step }: { step: DrawingId }) {
  return (
    <svg class={style.drawing} viewBox="0 0 320 150" role="img" aria-label={WORDS[step]}>
      {DRAWINGS[step]}
    </svg>
  )
}

const phone = (x: number, y: number) => (
  <>
    <rect x={x} y={y} width="52" height="96" rx="8" />
    <circle cx={x + 12} cy={y + 12} r="5" />
  </>
)

const DRAWINGS: Record<DrawingId, preact.JSX.Element> = {
  lock: (
    <>
      <rect x="118" y="14" width="84" height="124" rx="10" />
      <circle cx="160" cy="52" r="13" class={style.warm} />
      {[0, 45, 90, 135, 180, 225, 270, 315].map((angle) => (
        <path key={angle} class={style.warm} d="M160 32v-7" transform={`rotate(${angle} 160 52)`} />
      ))}
      <rect x="145" y="96" width="30" height="24" rx="4" />
      <path d="M151 96v-7a9 9 0 0 1 18 0v7" />
    </>
  ),
  card: (
    <>
      <path class={style.soft} d="M20 26h52M34 14h42M28 38h38" />
      <path class={style.soft} d="M84 40l44 46M96 28l52 52M72 52l40 46" stroke-dasharray="4 6" />
      <path class={style.grey} d="M112 112l90-18 44 26-92 20z" />
      <rect x="206" y="18" width="84" height="52" rx="8" />
      <circle cx="278" cy="30" r="5" />
      <path class={style.soft} d="M212 72l-50 28M282 72l-50 34" stroke-dasharray="4 6" />
    </>
  ),
  'card beside': (
    <>
      {phone(24, 14)}
      <path d="M50 110v22M50 118l-18 22M50 118l18 22" />
      <path class={style.soft} d="M84 58h70M84 66l78 34" stroke-dasharray="4 6" />
      <rect class={style.glow} x="166" y="38" width="112" height="22" rx="4" />
      <path class={style.grey} d="M176 84h60v44h-60z" />
      <path class={style.warm} d="M272 88a13 13 0 1 1 20 0l-4 8h-12zM277 104h10" />
      <path class={style.soft} d="M264 88l-20 8M268 98l-22 14" stroke-dasharray="4 6" />
    </>
  ),
  sweep: (
    <>
      {phone(24, 10)}
      <path d="M50 106v22M50 114l-18 22M50 114l18 22" />
      <path class={style.soft} d="M84 44h84" stroke-dasharray="4 6" />
      <rect class={style.glow} x="178" y="32" width="116" height="24" rx="4" />
      {[0, 1, 2, 3, 4].map((i) => (
        <g key={i}>
          <rect x={112 + 40 * i} y="92" width="32" height="40" rx="4" />
          <rect
            class={style.glow}
            style={{ opacity: 1 - 0.2 * i }}
            x={117 + 40 * i}
            y="106"
            width="22"
            height="10"
          />
        </g>
      ))}
    </>
  ),
  heat: (
    <>
      {phone(24, 26)}
      <path class={style.soft} d="M84 62h66" stroke-dasharray="4 6" />
      <rect class={style.glow} x="164" y="66" width="128" height="22" rx="4" />
      <path class={style.salt} d="M218 66c3-11 17-11 20 0z" />
      <path
        class={style.warm}
        d="M214 138c-10-14 6-20 8-34 10 10 4 16 10 20 2-4 2-6 1-9 8 8 8 18 1 23z"
      />
    </>
  ),
}
