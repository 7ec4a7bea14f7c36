import { expect, test } from 'vitest'
import { addressFromPath } from '../../../src/ui/router.ts'
import { screenTitle } from '../../../src/ui/words/titles.ts'

test.for([
  ['/', 'Reading · Glowbook'],
  ['/reading/live', 'Live camera · Glowbook'],
  ['/reading/check/01hzx', 'Can that be true? · Glowbook'],
  ['/chart', 'Chart · Glowbook'],
  ['/log', 'Log · Glowbook'],
  ['/log/01hzx', 'Reading in the log · Glowbook'],
  ['/log/series/Kiln shelf', 'Kiln shelf · Series · Glowbook'],
  ['/log/recordings%2Fvideo', 'From a video · Recordings · Glowbook'],
  ['/kit/ready', 'Make this camera ready · Glowbook'],
  ['/kit/ready/card', 'Grey card · Make this camera ready · Glowbook'],
  ['/kit/infrared%2FMade-up phone', 'Test for infrared · Glowbook'],
  ['/kit/known-heat/sodium-chloride', 'Known heat · Glowbook'],
  ['/safety/distance', 'How near, how long? · Glowbook'],
] as const)('%s is titled “%s”', ([path, title]) => {
  expect(screenTitle(addressFromPath(path))).toBe(title)
})
