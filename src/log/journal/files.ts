/** The files that a journal lies in: the browser's private file system, or memory in tests. */
export interface JournalFiles {
  segments(): Promise<string[]>
  /** Content of a segment, also while another tab writes into it. */
  read(segment: string): Promise<Blob>
  /** To write into; null while another tab holds it. Made when it is not there. */
  hold(segment: string): Promise<HeldFile | null>
  removeSegment(segment: string): Promise<void>
  /** On disk when it resolves. */
  putPicture(name: string, bytes: Uint8Array<ArrayBuffer>): Promise<void>
  picture(name: string): Promise<Uint8Array<ArrayBuffer> | undefined>
  pictures(): Promise<string[]>
  removePicture(name: string): Promise<void>
}

export interface HeldFile {
  readonly size: number
  /** Cuts what lies behind. */
  truncate(size: number): Promise<void>
  append(bytes: Uint8Array<ArrayBuffer>): Promise<void>
  /** On disk when it resolves. */
  flush(): Promise<void>
  close(): Promise<void>
}
