import css from './heat-map.module.css'
import drawing from './map-drawing.module.css'

const STOPS = 17

/** The scale of a map with what its ends and its middle mean. */
export function MapLegend({
  colourAt,
  ticks,
}: {
  /** CSS colour of a share of the scale, 0..1. */
  colourAt: (share: number) => string
  ticks: readonly [string, string, string]
}) {
  const stops = Array.from({ length: STOPS }, (_, i) => colourAt(i / (STOPS - 1)))
  return (
    <div class={drawing.legend}>
      <div
        class={css.scale}
        style={{ background: `linear-gradient(90deg, ${stops.join(', ')})` }}
        aria-hidden="true"
      />
      <div class={drawing.ends}>
        {ticks.map((tick) => (
          <span key={tick}>{tick}</span>
        ))}
      </div>
    </div>
  )
}

/** Figures side by side, each with its name. */
export function MapFigures({ of }: { of: readonly (readonly [name: string, figure: string])[] }) {
  return (
    <dl class={css.figures}>
      {of.map(([name, figure]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{figure}</dd>
        </div>
      ))}
    </dl>
  )
}
