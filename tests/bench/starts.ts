/** From starting a process to what it says first: the terminal's first prompt, and an empty Node process to compare. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';

export interface StartTimes {
  /** `node -e 0`, from start to end */
  readonly empty: number[];
  /** `thawline chat` on a pipe, from start to the first words */
  readonly prompt: number[];
  /** `thawline stdio`, from start to the answer to 20 words */
  readonly answer: number[];
}

const elapsed = (start: bigint): number => Number(process.hrtime.bigint() - start) / 1e6;

/** Runs each in turn, `rounds` times; the cache of the knowledge folder is warm from a first round not counted. */
export async function timeStarts(main: string, folder: string, text: string, rounds: number): Promise<StartTimes> {
  const times: StartTimes = { empty: [], prompt: [], answer: [] };
  const env = { ...process.env, XDG_CACHE_HOME: folder, THAWLINE_DB: `${folder}/starts.db` };
  const line = JSON.stringify({ case: 'k1', from: { id: 'u1', role: 'homeowner' }, text });
  const firstWords = async (args: readonly string[], input: string): Promise<number> => {
    const start = process.hrtime.bigint();
    const child = spawn(process.execPath, args, { env, cwd: folder, stdio: ['pipe', 'pipe', 'inherit'] });
    child.stdin.write(input);
    await once(child.stdout, 'data');
    const ms = elapsed(start);
    child.stdin.end();
    child.stdout.resume();
    const [code] = (await once(child, 'close')) as [number];
    if (code !== 0) throw new Error(`${args.join(' ')} ended with ${code}`);
    return ms;
  };
  for (let round = 0; round <= rounds; round += 1) {
    const start = process.hrtime.bigint();
    await once(spawn(process.execPath, ['-e', '0'], { env, cwd: folder, stdio: 'ignore' }), 'close');
    const empty = elapsed(start);
    const prompt = await firstWords([main, 'chat'], '');
    const answer = await firstWords([main, 'stdio'], `${line}\n`);
    if (round === 0) continue;
    times.empty.push(empty);
    times.prompt.push(prompt);
    times.answer.push(answer);
  }
  return times;
}
