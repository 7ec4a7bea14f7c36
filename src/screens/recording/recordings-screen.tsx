import { address } from '../../ui/router.ts'
import { RecordingListScreen } from './list-screen.tsx'
import { OverlayScreen } from './overlay-screen.tsx'
import { recordingPlace } from './recording-place.ts'
import { RecordingScreen } from './recording-screen.tsx'
import { VideoScreen } from './video-screen.tsx'

/** Heat over time: the recordings of the log, one of them, or several on one plot. */
export function RecordingsScreen() {
  const place = recordingPlace(address.value.rest)
  if (place.kind === 'list') return <RecordingListScreen />
  if (place.kind === 'video') return <VideoScreen />
  if (place.kind === 'one') return <RecordingScreen key={place.id} id={place.id} />
  return <OverlayScreen key={place.ids.join()} ids={place.ids} />
}
