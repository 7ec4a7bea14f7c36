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
