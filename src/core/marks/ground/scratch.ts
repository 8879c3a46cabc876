const rooms: Float32Array[] = []

/**
 * Room for numbers that are worked with now and not kept: the same memory each time a `place` is asked for, grown as needed. What is in it is what the last
 * use left. New memory is cleared by the system page by page, which took a tenth of a search.
 */
export function scratch(place: number, length: number): Float32Array {
  let room = rooms[place]
  if (!room || room.length < length) {
    room = new Float32Array(length)
    rooms[place] = room
  }
  return room.subarray(0, length)
}
