/**
 * Reads short sentences aloud, for eyes on the work. Only voices of the device itself are used: some
 * browsers send the text of others to a server.
 */
export interface Speech {
  /** Says it now; what is being said is cut short. False where the device has no voice of its own. */
  say(text: string): boolean
  stop(): void
}

export const canSpeak = (): boolean => 'speechSynthesis' in globalThis

export function createSpeech(): Speech {
  const voice = () =>
    speechSynthesis
      .getVoices()
      .find(({ localService, lang }) => localService && lang.toLowerCase().startsWith('en'))
  return {
    say(text) {
      if (!canSpeak()) return false
      const own = voice()
      if (!own) return false
      speechSynthesis.cancel()
      const words = new SpeechSynthesisUtterance(text)
      words.voice = own
      words.lang = own.lang
      speechSynthesis.speak(words)
      return true
    },
    stop() {
      if (canSpeak()) speechSynthesis.cancel()
    },
  }
}
