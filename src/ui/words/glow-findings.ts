import type { GlowFinding } from '../../light/measure-glow.ts'
import type { Notice } from './estimate.ts'
import { percent } from './percent.ts'

/**
 * What the region's pixels have to say. Null where the estimate says the same with more knowledge
 * (clipping, background, green at the floor, thin glow), so that nothing is said twice.
 */
export function noticeFromMeasurement({ code, values }: GlowFinding): Notice | null {
  switch (code) {
    case 'empty':
      return {
        weight: 'stop',
        title: 'The region lies outside the photo',
        todo: 'Move it onto the glow.',
      }
    case 'too small':
      return {
        weight: 'stop',
        title: `The region has only ${values.pixels} pixels`,
        todo: 'Make it larger; 16 pixels are the least.',
      }
    case 'clipped':
      return {
        weight: 'stop',
        title: `Overexposed: ${percent(values.share)} of the region is clipped`,
        todo: 'Clipped glow looks hotter than it is, so there is no figure. Expose less, or move the region off the bright core.',
      }
    case 'dark':
      return {
        weight: 'stop',
        title: 'Too dark to read',
        todo: 'Expose longer, or move the region onto a brighter part.',
      }
    case 'not redder than green':
      return {
        weight: 'warn',
        title: 'Not redder than green',
        todo: 'A glow within range is. Check the region and the white balance.',
      }
    case 'uneven':
      return {
        weight: 'warn',
        title: 'The glow is uneven',
        todo: 'The figure is a mean. See “How even the glow is”, or make the region smaller.',
      }
    case 'halo':
      return {
        weight: 'warn',
        title: 'Sharpened edges',
        todo: `That bends the glow’s colour about ${values.reachPixels?.toFixed(0)} pixels deep; the ± allows for it. Go closer, or turn sharpening and HDR off.`,
      }
    case 'background not seen':
      return {
        weight: 'note',
        title: 'No dark surroundings in the photo',
        todo: 'Stray light could not be taken off. Leave some dark around the glow.',
      }
    case 'some clipped':
    case 'background':
    case 'green at floor':
    case 'blue at floor':
    case 'thin glow':
      return null
  }
}
