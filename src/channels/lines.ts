export type Line = { readonly text: string } | { readonly trouble: 'too-long' | 'not-utf-8' };

/** Lines of a byte stream, with a most for their length: a longer one is told of, and not kept in memory. */
export async function* linesOf(input: AsyncIterable<Uint8Array>, most: number): AsyncGenerator<Line> {
  const decoder = new TextDecoder('utf-8', { fatal: true });
  let parts: Uint8Array[] = [];
  let size = 0;
  let tooLong = false;
  const finish = (): Line => {
    const whole = new Uint8Array(size);
    let at = 0;
    for (const p of parts) {
      whole.set(p, at);
      at += p.length;
    }
    parts = [];
    size = 0;
    const cut = tooLong;
    tooLong = false;
    if (cut) return { trouble: 'too-long' };
    try {
      return { text: decoder.decode(whole).replace(/\r$/, '') };
    } catch {
      return { trouble: 'not-utf-8' };
    }
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
