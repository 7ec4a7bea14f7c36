import { evenness } from '../../estimate/map/evenness.ts'
import { heatMap, measuredTemperatures } from '../../estimate/map/heat-map.ts'
import { heatScale } from '../../estimate/map/heat-scale.ts'
import { linearityAt } from '../../estimate/map/level-of-colour.ts'
import { mapChange } from '../../estimate/map/map-change.ts'
import { inRegion } from '../../light/region.ts'
import { answerCalls } from '../worker-answers.ts'
import type { MapOperations } from './map-operations.ts'

answerCalls<MapOperations>({
  change: async ({ earlier, later, readings }) => mapChange(earlier, later, readings),
  scale: async ({ input, estimate, at, ratios, levels }) =>
    heatScale(input, estimate, at, ratios, levels, linearityAt(input, null)),
  map: async ({ cells, input, estimate, curve, region }) => {
    const { columns, side, left, top } = cells
    // A cell counts where its middle lies in the region.
    const here = (at: number) =>
      inRegion(
        region,
        left + ((at % columns) + 0.5) * side - 0.5,
        top + (Math.floor(at / columns) + 0.5) * side - 0.5,
      )
    const map = heatMap(cells, input, estimate, linearityAt(input, curve), here)
    const { kind } = input.linearity
    return (
      map && { map, evenness: evenness(map, measuredTemperatures(map, cells), kind !== 'single') }
    )
  },
})
