import { findPlateaus } from '../../src/estimate/recording/plateaus.ts'
import { seeded } from '../accuracy/random.ts'
import { simulatedCurve } from '../estimate/recording/simulated-curves.ts'
import type { Bench } from './figure.ts'

/** Plateaus of simulated recordings: found, missed, and seen where there is none. */
export const bench: Bench = ({ short }) => {
  const count = short ? 20 : 200
  const random = seeded(7)
  let [alarms, found, inTime] = [0, 0, 0]
  const away: number[] = []
  const level: number[] = []
  for (let i = 0; i < count; i++) {
    if (findPlateaus(simulatedCurve({ random, plateau: false }).curve).length > 0) alarms++
    const { curve, plateau, levelK } = simulatedCurve({ random, plateau: true })
    const [begins, ends] = plateau!
    const hit = findPlateaus(curve).find((p) => p.fromSeconds < ends && p.toSeconds > begins)
    if (!hit) continue
    found++
    const off = [Math.abs(hit.fromSeconds - begins), Math.abs(hit.toSeconds - ends)]
    away.push(...off)
    if (Math.max(...off) <= 0.5) inTime++
    level.push(Math.abs(hit.levelK - levelK))
  }
  const share = (values: number[], at: number) =>
    values.sort((a, b) => a - b)[Math.floor(at * (values.length - 1))] ?? Number.NaN
  return [
    {
      name: `recordings without a plateau, of ${count}, that show one`,
      value: alarms,
      unit: '',
      target: { atMost: 0.01 * count },
    },
    {
      name: `plateaus found, of ${count}`,
      value: found,
      unit: '',
      target: { atLeast: 0.95 * count },
    },
    { name: 'of them with both ends within 0.5 s', value: inTime, unit: '' },
    { name: 'ends off by, median', value: share(away, 0.5), unit: 's', target: { atMost: 0.5 } },
    { name: 'ends off by, 90 %', value: share(away, 0.9), unit: 's', target: { atMost: 0.5 } },
    { name: 'level off by, 95 %', value: share(level, 0.95), unit: 'K', target: { atMost: 1 } },
  ]
}
