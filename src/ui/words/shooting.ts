import type { Notice } from './estimate.ts'

/** The system's share sheet sent something that could not be received. */
export const SHARE_FAILED: Notice = {
  weight: 'stop',
  title: 'What was shared did not arrive',
  todo: 'The app was not ready to receive it, or the storage is full. Open the file from here instead.',
}

/** Photos and texts were shared together: the photos are read first. */
export const sharedTextsWords = (texts: number) =>
  texts === 1
    ? 'A text file came along. It waits at Spectrum.'
    : `${texts} text files came along. They wait at Spectrum.`

/** How to take a photo that can be read, in the order of doing. */
export const SHOOTING: readonly { title: string; line: string }[] = [
  {
    title: 'Dark shop.',
    line: 'Lights off, door shut. Flash and torch off. Whatever shines on the glow is read with it.',
  },
  {
    title: 'Lock white balance on daylight.',
    line: 'In the camera app’s manual mode; HDR, night and scene modes off. Automatic white balance tries to turn the glow grey.',
  },
  {
    title: 'Expose less.',
    line: 'Turn exposure down until the glow is a clear red or orange, nowhere yellow or white at its core. Overexposed looks hotter.',
  },
  {
    title: 'Grey card.',
    line: 'Same lock, same camera: photograph a grey card in daylight or under a filament lamp. Plain paper will do. Avoid LED light.',
  },
  {
    title: 'Fill the frame from a distance.',
    line: 'Zoom in rather than go near: at least a thumb’s width of glow on the screen, and the phone stays cool.',
  },
]
