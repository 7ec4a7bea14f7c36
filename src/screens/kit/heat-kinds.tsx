import {
  type FixedPoint,
  type FixedPointGroup,
  fixedPointTemperature,
  KNOWN_HEATS,
} from '../../physics/fixed-points.ts'
import { showTemperature } from '../../ui/temperature.ts'
import { HEAT_GROUP_WORDS } from '../../ui/words/kit.ts'
import { BackHeader } from './back-header.tsx'
import css from './kit.module.css'

const GROUPS = Object.keys(HEAT_GROUP_WORDS) as FixedPointGroup[]

/** Which known heat: sure and cheap first. */
export function HeatKinds() {
  return (
    <main class={`screen ${css.kit}`}>
      <BackHeader to="/kit" title="Add a known heat" />
      <p class="soft">
        Something whose heat you know, photographed with the camera and lock that you read with. The
        nearer to the heats you read, the better.
      </p>
      <div class={css.groups}>
        {GROUPS.map((group) => (
          <section key={group} class="stack heat-group">
            <h2>{HEAT_GROUP_WORDS[group].name}</h2>
            <p class="small soft">{HEAT_GROUP_WORDS[group].line}</p>
            <ul class={css.list}>
              {KNOWN_HEATS.filter((heat) => heat.group === group).map((heat) => (
                <li key={heat.id}>
                  <a class={`button wide ${css.kind}`} href={`/kit/known-heat/${heat.id}`}>
                    <span>{heat.name}</span>
                    <span class="figure soft">{whereOf(heat)}</span>
                  </a>
                </li>
              ))}
            </ul>
          </section>
        ))}
      </div>
    </main>
  )
}

/** The temperature, or the span of what it may be. */
function whereOf({ id, points }: FixedPoint): string {
  if (points.by === 'value') return 'you state it'
  if (points.by === 'nothing') return showTemperature(points.point.temperatureK)
  const found =
    points.by === 'atmosphere'
      ? (['open-air', 'covered'] as const).map((atmosphere) => ({ id, atmosphere }))
      : (['low-carbon', 'medium-carbon', 'high-carbon'] as const).map((steelClass) => ({
          id,
          steelClass,
        }))
  const all = found
    .map((choice) => fixedPointTemperature(choice))
    .flatMap((known) => (known.ok ? [known.temperatureK] : []))
  const [low, high] = [Math.min(...all), Math.max(...all)]
  if (low === high) return showTemperature(low)
  return `${showTemperature(low).split(' ')[0]} to ${showTemperature(high)}`
}
