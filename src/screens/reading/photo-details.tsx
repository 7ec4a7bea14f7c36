import type { Photo } from '../../sources/photo/photo.ts'
import { shutterWords } from '../../ui/words/shutter.ts'

function colourSpaceOf({ channels, space, notes }: Photo): string {
  if (channels === 'camera') return 'raw'
  for (const note of notes) {
    if (note.code === 'own profile' || note.code === 'converted space') {
      return note.profileName || 'by its profile'
    }
  }
  return space === 'srgb' ? 'sRGB' : 'Display P3'
}

/** What the file says about how it was taken. Where it was taken is not read. */
export function PhotoDetails({ photo }: { photo: Photo }) {
  const { facts } = photo
  const rows: [string, string | null][] = [
    ['Size', `${photo.width} × ${photo.height}`],
    ['Colours', colourSpaceOf(photo)],
    ['Taken', facts.takenAt ? facts.takenAt.replace('T', ' ') : null],
    ['Exposure', facts.exposureSeconds === null ? null : shutterWords(facts.exposureSeconds)],
    ['ISO', facts.iso === null ? null : String(facts.iso)],
    ['Aperture', facts.fNumber === null ? null : `f/${facts.fNumber}`],
    ['White balance', facts.whiteBalance],
    ['Flash', facts.flashFired === null ? null : facts.flashFired ? 'fired' : 'off'],
    ['Camera', [facts.make, facts.model].filter(Boolean).join(' ') || null],
    ['Lens', facts.lens],
    ['Software', facts.software],
  ]
  return (
    <details>
      <summary>Photo</summary>
      <div class="inside">
        <dl class="facts">
          {rows
            .filter(([, value]) => value !== null)
            .map(([name, value]) => (
              <>
                <dt>{name}</dt>
                <dd>{value}</dd>
              </>
            ))}
        </dl>
        <p class="small soft">The place where a photo was taken is never read.</p>
      </div>
    </details>
  )
}
