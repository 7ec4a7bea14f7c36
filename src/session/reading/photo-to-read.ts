import { signal } from '@preact/signals'

/** A photo file that another screen hands to the reading; it is taken and forgotten there. */
export const photoToRead = signal<File | null>(null)
