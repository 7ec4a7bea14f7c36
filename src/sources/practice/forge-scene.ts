import { D65_K, daylightSpectrum } from '../../colour/daylight.ts'
import { respond } from '../../light/simulate/sensitivity.ts'
import { glowSpectrum, type SimulatedCamera } from '../../light/simulate/simulated-camera.ts'
import type { Triple } from '../../numerics/matrix3.ts'
import { fractalNoise } from './value-noise.ts'

/**
 * A dark forge: a flat bar with one end at heat lies across a firebrick; a strip of daylight falls
 * on a grey card. Invented, and lit by nothing but the bar's own glow (Planck), its light on the
 * brick, and that daylight.
 */
export const SCENE = {
  width: 1200,
  height: 900,
  /** True temperature of the even part of the hot end, K, and its standard deviation over it. */
  temperatureK: 1193,
  spreadK: 4,
} as const

/** Raw level (of 1) of the glow's red channel at {@link SCENE}'s temperature. */
const GLOW_LEVEL = 0.58
/** Raw level of the card in daylight. */
const CARD_LEVEL = 0.2

interface Point {
  readonly x: number
  readonly y: number
}

const smooth = (from: number, to: number, v: number) => {
  const t = Math.min(Math.max((v - from) / (to - from), 0), 1)
  return t * t * (3 - 2 * t)
}
/** 1 inside, 0 outside, soft over one pixel, from a signed distance in pixels. */
const cover = (distance: number) => Math.min(Math.max(0.5 - distance, 0), 1)

/** A frame turned about a centre: coordinates along and across. */
function turned(p: Point, centre: Point, degrees: number): Point {
  const a = (degrees * Math.PI) / 180
  const [dx, dy] = [p.x - centre.x, p.y - centre.y]
  return { x: dx * Math.cos(a) + dy * Math.sin(a), y: dy * Math.cos(a) - dx * Math.sin(a) }
}

/** Signed distance to a box with round corners. */
function boxDistance(p: Point, halfWidth: number, halfHeight: number, radius: number): number {
  const dx = Math.abs(p.x) - halfWidth + radius
  const dy = Math.abs(p.y) - halfHeight + radius
  return Math.hypot(Math.max(dx, 0), Math.max(dy, 0)) + Math.min(Math.max(dx, dy), 0) - radius
}

const BAR = { centre: { x: 330, y: 432 }, degrees: -6, halfLength: 480, halfThickness: 52 }
const BRICK = { centre: { x: 655, y: 541 }, degrees: 1.2, halfWidth: 290, halfHeight: 124 }
const CARD = { centre: { x: 1010, y: 712 }, degrees: -9, halfWidth: 112, halfHeight: 88 }

/** Temperature of the bar's surface, K, at a place along (-1..1) and across (-1..1) it. */
function barTemperatureK(along: number, across: number, p: Point): number {
  const hot = SCENE.temperatureK
  // The end was in the fire: even over its hot third, falling towards the tongs.
  const cooling = 560 * smooth(0.28, -1.05, along) + 60 * smooth(0.34, 0.1, along)
  // Edges and tip lose heat on two sides.
  const edge = 16 * smooth(0.82, 1, Math.abs(across)) + 20 * smooth(0.93, 1, along)
  const patches = 1.7 * SCENE.spreadK * (fractalNoise(p.x / 46, p.y / 46, 11) - 0.5)
  return hot - cooling - edge + patches
}

/**
 * Light of the scene at a place, as raw channels over those of a grey card in daylight
 * (see SimulatedCamera), before lens and noise.
 */
export function forgeScene(camera: SimulatedCamera): (x: number, y: number) => Triple {
  const { card } = camera
  const balanced = ([r, g, b]: Triple): Triple => [r / card[0], g / card[1], b / card[2]]
  const daylight = balanced(respond(camera.sensitivity, daylightSpectrum(D65_K)))
  const unit =
    GLOW_LEVEL / balanced(respond(camera.sensitivity, glowSpectrum(SCENE.temperatureK)))[0]
  const coldest = 600
  const table = Array.from({ length: 700 }, (_, i): Triple => {
    const [r, g, b] = balanced(respond(camera.sensitivity, glowSpectrum(coldest + i)))
    return [r * unit, g * unit, b * unit]
  })
  const glow = (temperatureK: number) =>
    table[Math.min(Math.max(Math.round(temperatureK - coldest), 0), table.length - 1)]!
  const hotGlow = glow(SCENE.temperatureK)

  return (x, y) => {
    const p = { x, y }
    // The shop: wall, and the bench from its edge downwards; little daylight, from the right.
    const bench = smooth(560, 572, y + 14 * Math.sin(x / 260))
    const roughness = fractalNoise(x / 90, y / (bench > 0.5 ? 22 : 90), 3)
    const fromRight = 0.4 + 0.9 * smooth(100, 1200, x) * smooth(-100, 800, y)
    const ground = (0.0022 + 0.0042 * bench) * fromRight * (0.55 + 0.9 * roughness)
    // A slit of daylight falls on the bench where the card lies.
    const slit = Math.exp(-(((x - 1010) / 230) ** 2) - ((y - 735) / 130) ** 2)
    let light = scale(daylight, ground + 0.02 * slit * bench * (0.35 + 1.3 * roughness))

    // Light of the bar on what lies near: falls off with the distance from the hot end.
    const along = turned(p, BAR.centre, BAR.degrees)
    const fromHot = Math.hypot(
      Math.max(Math.abs(along.x - 330) - 150, 0),
      Math.max(Math.abs(along.y) - BAR.halfThickness, 0),
    )
    const lit = 0.05 / (1 + (fromHot / 60) ** 2)

    const inBrick = turned(p, BRICK.centre, BRICK.degrees)
    const brick = boxDistance(inBrick, BRICK.halfWidth, BRICK.halfHeight, 9)
    if (brick < 1) {
      const grain = 0.72 + 0.56 * fractalNoise(x / 9, y / 9, 5)
      const topFace = smooth(-68, -74, inBrick.y)
      const surface = (0.3 + 0.7 * topFace) * grain
      // Fireclay: red reflected better than blue.
      const own: Triple = [0.62 * surface, 0.5 * surface, 0.4 * surface]
      const received = add(scale(hotGlow, 0.9 * lit), scale(daylight, 0.006 * fromRight))
      light = blend(light, times(own, received), cover(brick))
    } else {
      light = add(light, scale(hotGlow, 0.35 * lit * bench * (0.5 + roughness)))
    }

    const bar = boxDistance(along, BAR.halfLength, BAR.halfThickness, 10)
    if (bar < 1) {
      const at = along.x / BAR.halfLength
      const across = along.y / BAR.halfThickness
      const temperatureK = barTemperatureK(at, across, p)
      // Scale: loose flakes are cooler; plates of it shine less, at the same temperature.
      const flake = smooth(0.69, 0.75, fractalNoise(x / 17, y / 13, 23)) * smooth(0.5, 0.35, at)
      const plate = 0.1 * smooth(0.46, 0.62, fractalNoise(x / 58, y / 31, 41))
      const level = 1 + 0.05 * (fractalNoise(x / 7, y / 7, 29) - 0.5) - plate - 0.5 * flake
      const rounded = 1 - 0.1 * smooth(0.86, 1, Math.abs(across))
      // Daylight on the bar: seen on its dark end, a trace on the hot one.
      const shine = (0.0005 + 0.006 * smooth(0.2, -0.6, at)) * fromRight * (1 - 0.5 * across)
      const surface = add(
        scale(glow(temperatureK - 45 * flake), level * rounded),
        scale(daylight, shine),
      )
      light = blend(light, surface, cover(bar))
    }

    const inCard = turned(p, CARD.centre, CARD.degrees)
    const shadow = boxDistance(
      { x: inCard.x - 9, y: inCard.y - 11 },
      CARD.halfWidth,
      CARD.halfHeight,
      6,
    )
    light = scale(light, 1 - 0.55 * smooth(14, -6, shadow))
    const sheet = boxDistance(inCard, CARD.halfWidth, CARD.halfHeight, 3)
    if (sheet < 1) {
      const falloff = 1 + 0.05 * (inCard.x / CARD.halfWidth) + 0.03 * (inCard.y / CARD.halfHeight)
      const paper = boxDistance(inCard, CARD.halfWidth - 13, CARD.halfHeight - 13, 1)
      const level = CARD_LEVEL * falloff * (1 + 2.3 * (1 - cover(paper)))
      light = blend(light, add(scale(daylight, level), scale(hotGlow, 0.02 * lit)), cover(sheet))
    }
    return light
  }
}

const scale = ([r, g, b]: Triple, k: number): Triple => [r * k, g * k, b * k]
const times = (a: Triple, b: Triple): Triple => [a[0] * b[0], a[1] * b[1], a[2] * b[2]]
const add = (a: Triple, b: Triple): Triple => [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
const blend = (under: Triple, over: Triple, share: number): Triple =>
  add(scale(under, 1 - share), scale(over, share))

/** Where the bar is even and at its stated temperature, and where the card's grey is, in pixels. */
export const TRUE_PLACES = {
  glow: { shape: 'rectangle', x: 555, y: 380, width: 180, height: 44 },
  card: { shape: 'rectangle', x: 945, y: 660, width: 130, height: 100 },
} as const
