/**
 * A function of an object that does not change, worked out once for each as long as the object lives.
 *
 * @example
 * onceFor((list: readonly number[]) => list.length)([1, 2]) // 2
 */
export function onceFor<Key extends object, Value>(work: (key: Key) => Value): (key: Key) => Value {
  const known = new WeakMap<Key, { readonly value: Value }>()
  return (key) => {
    let found = known.get(key)
    if (!found) {
      found = { value: work(key) }
      known.set(key, found)
    }
    return found.value
  }
}

/** So many numbers are remembered at most; then all are forgotten. */
const MOST_NUMBERS = 200

/**
 * A function of a number, worked out once for each while few are asked for: the tone curves and scales of
 * an estimate, and the next readings, ask for the same temperatures.
 *
 * @example
 * onceForNumber((kelvin) => [kelvin, 1e6 / kelvin])(1250)[1] // 800
 */
export function onceForNumber<Value>(work: (key: number) => Value): (key: number) => Value {
  const known = new Map<number, Value>()
  return (key) => {
    let value = known.get(key)
    if (value === undefined) {
      if (known.size >= MOST_NUMBERS) known.clear()
      value = work(key)
      known.set(key, value)
    }
    return value
  }
}
