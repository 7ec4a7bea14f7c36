/**
 * Values handed over one by one to who reads them at his own pace: each `put` resolves when the value
 * has been taken, so that no more than one waits.
 */
export class FrameQueue<Value> implements AsyncIterable<Value> {
  #offered: { readonly value: Value; readonly taken: () => void } | null = null
  #wanted: (() => void) | null = null
  #ended = false

  put(value: Value): Promise<void> {
    return new Promise((taken) => {
      this.#offered = { value, taken }
      this.#wanted?.()
    })
  }

  end(): void {
    this.#ended = true
    this.#wanted?.()
  }

  async *[Symbol.asyncIterator](): AsyncGenerator<Value> {
    for (;;) {
      if (this.#offered) {
        const { value, taken } = this.#offered
        this.#offered = null
        taken()
        yield value
      } else if (this.#ended) return
      else
        await new Promise<void>((resolve) => {
          this.#wanted = resolve
        })
    }
  }
}
