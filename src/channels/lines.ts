/** Lines of a byte stream, with a most for their length: a longer one comes out as `null`, and is not kept in memory. */
export async function* linesOf(input: AsyncIterable<Uint8Array>, most: number): AsyncGenerator<string | null> {
  const decoder = new TextDecoder();
  let parts: Uint8Array[] = [];
  let size = 0;
  let tooLong = false;
  const finish = (): string | null => {
    const whole = new Uint8Array(size);
    let at = 0;
    for (const p of parts) {
      whole.set(p, at);
      at += p.length;
    }
    parts = [];
    size = 0;
    const line = tooLong ? null : decoder.decode(whole).replace(/\r$/, '');
    tooLong = false;
    return line;
  };
  for await (const chunk of input) {
    let from = 0;
    for (let at = chunk.indexOf(10); at >= 0; at = chunk.indexOf(10, from)) {
      if (!take(chunk.subarray(from, at))) tooLong = true;
      yield finish();
      from = at + 1;
    }
    if (from < chunk.length && !take(chunk.subarray(from))) tooLong = true;
  }
  if (size > 0 || tooLong) yield finish();

  function take(piece: Uint8Array): boolean {
    if (tooLong || size + piece.length > most) {
      parts = [];
      size = 0;
      return false;
    }
    parts.push(piece.slice());
    size += piece.length;
    return true;
  }
}
