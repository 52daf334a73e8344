/** Checked files into the facts. Everything is looked up once here, so that a turn only reads. */
import type { Files } from './load.js';
import type { BothWords } from './schema.js';
import type {
  Access,
  Ask,
  Costs,
  Fault,
  Finding,
  Knowledge,
  Part,
  QuantityName,
  Reading,
  Sentence,
  Step,
  Table,
  Witness,
} from './facts.js';
import { fullTable } from './rows.js';

export function buildFacts(files: Files, hash: string): Knowledge {
  const scale = files['scale.yaml'].data;
  const faultList = files.faults.map((p) => p.data).sort((a, b) => (a.id < b.id ? -1 : 1));
  const table = (
    text: Parameters<typeof fullTable>[0] | undefined,
    values: readonly string[],
    many: boolean,
  ): Table | null => (text ? fullTable(text, values, many, scale, faultList) : null);

  const findings = new Map<string, Finding>();
  for (const { data } of files.findings) {
    findings.set(data.id, {
      ...stepOf(data.id, data, data.name),
      about: 'finding',
      kind: data.kind,
      values: data.values,
      many: data.many,
      healthy: data.healthy ? data.values.indexOf(data.healthy) : -1,
      planned: !data.neverPlanned,
      table: table(data.likelihood, data.values, data.many),
      watch: data.watch
        ? {
            ask: data.watch.ask,
            minutes: data.watch.minutes.value,
            waitHours: data.watch.wait.value,
            roles: data.watch.roles,
          }
        : null,
      choices: data.choices,
      says: data.says,
      yieldsTo: data.yieldsTo,
    });
  }

  const readings = new Map<string, Reading>();
  const parts = new Map<string, Part>();
  for (const { data } of files.readings) {
    const quantities = Object.keys(data.quantities) as QuantityName[];
    parts.set(data.part, { id: data.part, name: data.name, says: data.says, quantities });
    for (const quantity of quantities) {
      const q = data.quantities[quantity];
      if (!q) continue;
      const id = `${data.part}.${quantity}`;
      readings.set(id, {
        ...stepOf(id, q, data.name),
        about: 'reading',
        kind: 'symptom',
        part: data.part,
        quantity,
        values: q.states,
        many: false,
        healthy: q.states.indexOf(q.healthy),
        planned: true,
        table: table(q.likelihood, q.states, false),
        judge: q.judge,
        numbers: q.values,
        why: q.why,
      });
    }
  }

  return Object.freeze({
    hash,
    faultIds: faultList.map((f) => f.id),
    faults: new Map<string, Fault>(faultList.map((f) => [f.id, f])),
    systems: new Map(Object.entries(files['systems.yaml'].data)),
    findings,
    readings,
    parts,
    steps: new Map<string, Step>([...findings, ...readings]),
    hazards: new Map(files.hazards.map((p) => [p.data.id, p.data])),
    lessons: new Map(files.lessons.map((p) => [p.data.id, p.data])),
    topics: new Map(files.topics.map((p) => [p.data.id, p.data])),
    access: new Map(
      Object.entries(files['access.yaml'].data).map(([id, a]): [string, Access] => [
        id,
        { ...a, id, minutes: a.minutes.value },
      ]),
    ),
    costs: costsOf(files['costs.yaml'].data),
    witnesses: new Map(
      Object.entries(files['witnesses.yaml'].data).map(([id, group]): [string, Witness[]] => [
        id,
        group.members.map((m) =>
          typeof m === 'string' ? { step: m, values: null } : { step: m.finding, values: m.values },
        ),
      ]),
    ),
    concepts: new Map(files.language.flatMap((p) => Object.entries(p.data))),
    sentences: files.sentences.flatMap((p) => sentencesOf(p.data)),
    words: new Map(files.words.flatMap((p) => Object.entries(p.data).map(([key, w]) => [key, bothOf(w)] as const))),
    curves: new Map(files.curves.map((p) => [p.data.id, p.data])),
    units: new Map(files.units.map((p) => [p.data.id, p.data])),
    places: files['places.yaml'].data,
    defrost: files['defrost.yaml'].data,
    waits: files['waits.yaml'].data,
    study: files['study.yaml'].data,
    hearing: files['hearing.yaml'].data,
    sources: new Map(Object.entries(files['sources.yaml'].data)),
  });
}

function sentencesOf(data: Files['sentences'][number]['data']): Sentence[] {
  const of = (by: Readonly<Record<string, string>>, isAnswer: boolean): Sentence[] =>
    Object.entries(by).flatMap(([meaning, block]) => {
      const labels = meaning === 'nothing' ? [] : meaning.split(', ');
      const asked = isAnswer ? (labels[0]?.split('=')[0] ?? null) : null;
      return block.split('\n').flatMap((text) => (text.trim() ? [{ text: text.trim(), labels, asked }] : []));
    });
  return [...of(data.said, false), ...of(data.asked, true)];
}

function bothOf(words: string | BothWords): BothWords {
  return typeof words === 'string' ? { homeowner: words, technician: words } : words;
}

interface StepText {
  readonly ask: { readonly homeowner: Ask; readonly technician: Ask };
  readonly minutes: { readonly value: number };
  readonly applies: Step['applies'];
  readonly needs: Step['needs'];
  readonly wait?: { readonly value: number } | undefined;
}

function stepOf(
  id: string,
  text: StepText,
  name: BothWords,
): Pick<Step, 'id' | 'name' | 'ask' | 'minutes' | 'applies' | 'needs' | 'waitHours'> {
  return {
    id,
    name,
    ask: text.ask,
    minutes: text.minutes.value,
    applies: text.applies,
    needs: text.needs,
    waitHours: text.wait?.value ?? 0,
  };
}

function costsOf(text: Files['costs.yaml']['data']): Costs {
  return {
    remedy: (remedy, words) => {
      const entry = text.remedies[remedy]?.[words];
      if (!entry) throw new Error(`no cost for the remedy ${remedy} (${words})`);
      return entry.value;
    },
    wrong: { homeowner: text.wrong.homeowner.value, technician: text.wrong.technician.value },
    wrongAtLeast: text.wrongAtLeast.value,
    otherPart: text.otherPart.value,
    handOver: { homeowner: text.handOver.homeowner.value, technician: text.handOver.technician.value },
    licensedMissed: text.licensedMissed.value,
    waitHour: text.waitHour.value,
    perQuestion: text.perQuestion.value,
    tiresAfter: text.tiresAfter.value,
    mostQuestions: text.mostQuestions.value,
    sureEnough: text.sureEnough.value,
    pairs: text.pairs.value,
    repeatedWitness: text.repeatedWitness.value,
    repairWorks: text.repairWorks.value,
    ruledOutBelow: text.ruledOutBelow.value,
  };
}
