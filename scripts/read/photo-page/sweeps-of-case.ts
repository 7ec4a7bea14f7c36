/** The sweeps of a case: one that leaves the kind of its curve open is told what the others show. */
import type { SweepResult } from '../../../src/light/exposure-sweep/sweep-result.ts'
import type { Region } from '../../../src/light/image.ts'
import { middleRegion } from '../../../src/light/region-geometry.ts'
import { openSweep, type Sweep } from '../../../src/sources/sweep/open-sweep.ts'
import { Refused } from './refused.ts'

export interface SweptGlow {
  readonly sweep: Sweep
  readonly region: Region
  readonly found: SweepResult
}

/** @param lists the files of each glow of one camera; those of one file are no sweep */
export async function sweepsOfCase(
  lists: readonly (readonly string[])[],
  fileOf: (name: string) => File,
): Promise<ReadonlyMap<readonly string[], SweptGlow>> {
  const read = new Map<readonly string[], SweptGlow>()
  try {
    for (const names of lists) {
      if (names.length > 1) read.set(names, await sweptGlow(names.map(fileOf)))
    }
    for (const [names, swept] of read) {
      const others = [...read].flatMap(([other, { found }]) =>
        other === names || found.kind === 'refused' ? [] : [found.channelOdds],
      )
      if (!isOpen(swept.found) || others.length === 0) continue
      const { sweep, region } = swept
      const channelOdds = others.reduce((product, odds) => product * odds, 1)
      const found = await sweep.measure(region, exposuresOf(sweep), { channelOdds })
      read.set(names, { sweep, region, found })
    }
    return read
  } catch (error) {
    for (const { sweep } of read.values()) sweep.close()
    throw error
  }
}

const isOpen = (found: SweepResult): boolean =>
  found.kind === 'refused'
    ? found.reason === 'curve kind undecided'
    : found.findings.some(({ code }) => code === 'both kinds averaged')

async function sweptGlow(files: readonly File[]): Promise<SweptGlow> {
  const sweep = await openSweep(files)
  try {
    const region = sweep.base.proposal ?? middleRegion(sweep.base)
    return { sweep, region, found: await sweep.measure(region, exposuresOf(sweep)) }
  } catch (error) {
    sweep.close()
    throw error
  }
}

function exposuresOf({ photos }: Sweep): number[] {
  const stated = photos.flatMap(({ exposure }) => exposure ?? [])
  if (stated.length < photos.length) throw new Refused('exposures not stated')
  return stated
}
