/** Plays a tone that fades out. @param startsIn seconds from now */
export function playTone(
  audio: AudioContext,
  pitchHz: number,
  seconds: number,
  startsIn = 0,
): void {
  const from = audio.currentTime + startsIn
  const tone = audio.createOscillator()
  const gain = audio.createGain()
  tone.frequency.value = pitchHz
  gain.gain.setValueAtTime(0.25, from)
  gain.gain.linearRampToValueAtTime(0, from + seconds)
  tone.connect(gain).connect(audio.destination)
  tone.start(from)
  tone.stop(from + seconds)
}

const ALARM_HZ = [880, 660, 880] as const
const ALARM_SECONDS = 0.4

/** Three tones that call somebody who is not looking. */
export function playAlarm(): void {
  const audio = new AudioContext()
  for (const [i, pitchHz] of ALARM_HZ.entries())
    playTone(audio, pitchHz, ALARM_SECONDS, i * ALARM_SECONDS)
  setTimeout(() => void audio.close(), 2000 * ALARM_HZ.length * ALARM_SECONDS)
}
