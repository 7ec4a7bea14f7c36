import {
  type ChapmanColour,
  chapmanColoursBetween,
  type StirlingPlace,
  stirlingColour,
} from '../../physics/heat-colours.ts'

const listed = (names: readonly string[]): string =>
  names.length > 2 ? `${names[0]} to ${names[names.length - 1]}` : names.join(' or ')

/** Chapman's names for all that an interval touches; an em dash below his list. */
export function chapmanWords(lowK: number, highK: number): string {
  const colours: readonly ChapmanColour[] = chapmanColoursBetween(lowK, highK)
  return colours.length > 0 ? listed(colours.map((colour) => colour.name)) : 'no name'
}

/** Stirling names points: the nearest one, or both where the place lies between two. */
export function stirlingWords(lowK: number, highK: number): string {
  const low: StirlingPlace = stirlingColour(lowK)
  const high: StirlingPlace = stirlingColour(highK)
  const names = [...new Set([low.nearest.name, high.nearest.name])]
  return listed(names)
}
