/** Kills victims at random moments, one or two at once, and says again what was not answered, as a front end would. */
import { setTimeout as wait } from 'node:timers/promises';
import { judge, storedAnswers, waitingIn, type Verdict } from './judge.js';
import { randomFrom } from './random.js';
import { keptAs, type Alive, type Message, type Victim } from './victim.js';

export interface Plan {
  readonly victim: Victim;
  readonly folder: string;
  readonly kills: number;
  readonly seed: number;
  /** it stops by then, in ms since 1970 */
  readonly until: number;
  readonly onKill?: (kills: number) => void;
}

export interface Torment extends Verdict {
  readonly kills: number;
  /** kills of which another program was at work on the same store */
  readonly beside: number;
  readonly sent: number;
  readonly acknowledged: number;
  /** answered, and there at the end with the same answer */
  readonly survivors: number;
  /** stored, but not answered any more when the kill came; said again they were answered, and handled once */
  readonly storedUnanswered: number;
  /** kills that left a page waiting; the next program delivered it */
  readonly leftWaiting: number;
}

const MOST_LINES = 16;

interface Teller {
  readonly name: string;
  said: number;
  unanswered: Message[];
}

export async function torment({ victim, folder, kills, seed, until, onKill }: Plan): Promise<Torment> {
  const random = randomFrom(seed);
  const tellers: Teller[] = ['a', 'b'].map((name) => ({ name, said: 0, unanswered: [] }));
  const acknowledged = new Map<string, string>();
  const answeredLately: Message[] = [];
  const found: string[] = [];
  let done = 0;
  let beside = 0;
  let storedUnanswered = 0;
  let leftWaiting = 0;

  const hear = (message: Message, answer: string | null): void => {
    if (answer === null) return;
    const before = acknowledged.get(message.id);
    if (before !== undefined && before !== answer) found.push(`${message.id} was answered in two ways`);
    acknowledged.set(message.id, answer);
    answeredLately.push(message);
    if (answeredLately.length > 6) answeredLately.shift();
  };

  const say = (alive: Alive, messages: readonly Message[]): Promise<void>[] =>
    messages.map(async (m) => hear(m, await alive.say(m)));

  async function kill(teller: Teller): Promise<void> {
    const alive = victim.start(folder);
    // what was answered before is answered alike, by whichever program; what was not is said again; then more
    const again = answeredLately.filter(() => random() < 0.4);
    const more = 4 + Math.floor(random() * (MOST_LINES - 4));
    const news = Array.from({ length: more }, (_, i) => victim.messageOf(teller.name, teller.said + i));
    teller.said += more;
    const lines = [...again, ...teller.unanswered, ...news];
    const goal = Math.floor(random() * lines.length);
    const early = random() < 0.25;
    const moment = random();
    const heard = say(alive, lines);
    if (early) await wait(moment * victim.startMs);
    else {
      await heard[goal];
      await wait(moment * 8);
    }
    await alive.kill();
    await Promise.all(heard);
    teller.unanswered = [...teller.unanswered, ...news].filter((m) => !acknowledged.has(m.id));
    done += 1;
    onKill?.(done);
  }

  while (done < kills && Date.now() < until) {
    const [first, second] = tellers as [Teller, Teller];
    const pair = victim.pairs && done + 2 <= kills && random() < 0.4;
    if (pair) {
      beside += 2;
      await Promise.all([kill(first), kill(second)]);
    } else await kill(random() < 0.5 ? first : second);
    // before any program could mend it
    const stored = storedAnswers(folder);
    for (const [id, answer] of acknowledged) {
      const [kept] = keptAs(victim, stored, id);
      if (kept === undefined || victim.shown(kept) !== answer) found.push(`${id} was lost at kill ${done}`);
    }
    storedUnanswered += tellers
      .flatMap((t) => t.unanswered)
      .filter((m) => keptAs(victim, stored, m.id).length > 0).length;
    if (stored.size > 0 && waitingIn(folder) > 0) leftWaiting += 1;
  }

  // the last program is left alone: all that was ever said is answered now
  const last = victim.start(folder);
  await Promise.all(
    say(
      last,
      tellers.flatMap((t) => t.unanswered),
    ),
  );
  await last.end();
  const verdict = judge(folder, acknowledged, victim);
  return {
    ...verdict,
    losses: [...found, ...verdict.losses],
    kills: done,
    beside,
    sent: tellers.reduce((sum, t) => sum + t.said, 0),
    acknowledged: acknowledged.size,
    survivors: acknowledged.size - verdict.losses.length,
    storedUnanswered,
    leftWaiting,
  };
}
