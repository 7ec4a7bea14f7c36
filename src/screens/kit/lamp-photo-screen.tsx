import { openCapture, openLamp } from '../../session/kit/capture-draft.ts'
import { type LampSubject, subjectName } from '../../session/kit/subject.ts'
import { KIT_WORDS } from '../../ui/words/kit.ts'
import { colourTemperatureWords, LAMP_TARGET_WORDS } from '../../ui/words/lamps.ts'
import { BackHeader } from './back-header.tsx'
import { CapturePanel } from './capture-panel.tsx'
import css from './kit.module.css'
import { KitPhotoSources } from './kit-photo-sources.tsx'

/** The photo of a lamp at one setting. */
export function LampPhotoScreen() {
  const capture = openCapture.value
  const subject = capture?.subject.value
  const lamp = openLamp.value
  const back = lamp?.inKit.value ? `/kit/lamp/${lamp.lampId}` : '/kit/lamp'
  if (!capture || subject?.kind !== 'lamp') {
    return (
      <main class={`screen ${css.kit}`}>
        <BackHeader to="/kit/lamp" title="Lamp" />
        <p class="card">{KIT_WORDS.noLampYet}</p>
      </main>
    )
  }
  const title = subjectName(subject)
  if (capture.reading.glow.photo.value) {
    return (
      <CapturePanel
        capture={capture}
        title={title}
        back={back}
        after={lamp?.ladder.value ? back : '/kit'}
        onStored={() => lamp?.settingStored()}
      >
        <LampKnown subject={subject} />
      </CapturePanel>
    )
  }
  return (
    <main class={`screen ${css.kit}`}>
      <BackHeader to={back} title={title} />
      <LampKnown subject={subject} />
      <KitPhotoSources reading={capture.reading} />
    </main>
  )
}

function LampKnown({ subject }: { subject: LampSubject }) {
  const { colourTemperatureK, standardUncertaintyK, target } = subject
  return (
    <p>
      <strong class="figure">
        {colourTemperatureWords(colourTemperatureK, standardUncertaintyK)}
      </strong>
      <br />
      <span class="soft">{LAMP_TARGET_WORDS[target].replace(/ \(.*/, '')}</span>
    </p>
  )
}
