/** A stretch of numbers to write on and reorder, with any content. It is only good until the next call. */
export type Workspace = (length: number) => Float64Array;

/** Memory that is used again by every call, as touching fresh memory is dear: room for short-lived numbers inside one function. */
export function workspace(): Workspace {
  let room = new Float64Array(0);
  return (length) => {
    if (room.length < length) room = new Float64Array(Math.max(length, 2 * room.length));
    return room.subarray(0, length);
  };
}

const roomForCopies = workspace();

/**
 * A copy to reorder, only good until the next call; the input stays as it was.
 * @throws RangeError if there is nothing to copy
 */
export function workingCopy(values: ArrayLike<number>): Float64Array {
  if (values.length === 0) throw new RangeError('needs at least one value');
  const copy = roomForCopies(values.length);
  copy.set(values);
  return copy;
}
