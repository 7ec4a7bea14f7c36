import { signal } from '@preact/signals'
import type { LiveRecorder } from './live-recorder.ts'

/** The recording that this page is making: shown on every screen, and kept alive on all of them. */
export const runningRecording = signal<LiveRecorder | null>(null)
