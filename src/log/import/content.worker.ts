/// <reference lib="webworker" />
import { answerContent } from './content-calls.ts'

answerContent()
