/** Every id that an entry names must exist; the allowed ones are named where the list is short. */
import type { Files } from '../load.js';
import type { Mistake } from '../mistake.js';
import { stepPlaces } from './steps.js';

/** lessons that tell of no danger */
const ORDINARY = 'ordinary';

export function checkIds(files: Files, mistakes: Mistake[]): void {
  const faults = files.faults.map((p) => p.data.id);
  const systems = Object.keys(files['systems.yaml'].data);
  const findings = new Map(files.findings.map((p) => [p.data.id, p.data]));
  const steps = stepPlaces(files);
  const stepIds = steps.map((s) => s.id);
  const access = Object.keys(files['access.yaml'].data);
  const hazards = files.hazards.map((p) => p.data.id);
  const need = (file: string, line: number, what: string, id: string, allowed: readonly string[]): void => {
    if (allowed.includes(id)) return;
    const names = allowed.length <= 60 ? `Allowed: ${allowed.join(', ')}.` : closest(id, allowed);
    mistakes.push({ file, line, problem: `no ${what} is called "${id}"`, mend: names });
  };

  unique(
    files.language.map((p) => ({ file: p.file, keys: Object.keys(p.data), line: (k: string) => p.line([k]) })),
    'concept',
    mistakes,
  );
  unique(
    files.words.map((p) => ({ file: p.file, keys: Object.keys(p.data), line: (k: string) => p.line([k]) })),
    'text',
    mistakes,
  );

  for (const { file, data, line } of files.faults) {
    need(file, line(['system']), 'system', data.system, systems);
    for (const words of ['homeowner', 'technician'] as const) {
      const remedy = data.repair[words].remedy;
      if (!files['costs.yaml'].data.remedies[remedy]?.[words])
        mistakes.push({
          file,
          line: line(['repair', words, 'remedy']),
          problem: `the remedy "${remedy}" has no cost for a ${words}`,
          mend: `Add it to costs.yaml under remedies, with minutes for a ${words}.`,
        });
    }
  }
  const { file: studyFile, data: study, line: studyLine } = files['study.yaml'];
  const isFinding = (key: readonly string[], id: string): void =>
    need(studyFile, studyLine([...key]), 'finding', id, [...findings.keys()]);
  for (const words of ['homeowner', 'technician'] as const)
    for (const id of study.told[words]) isFinding(['told', words], id);
  for (const [id, by] of Object.entries(study.answers)) {
    isFinding(['answers', id], id);
    const { values } = findings.get(id) ?? {};
    for (const value of values ? Object.keys({ ...by.homeowner, ...by.technician }) : [])
      need(studyFile, studyLine(['answers', id]), `value of ${id}`, value, values ?? []);
  }
  for (const id of Object.keys(study.hardAtHome)) need(studyFile, studyLine(['hardAtHome', id]), 'step', id, stepIds);
  for (const id of study.checklist) need(studyFile, studyLine(['checklist']), 'step', id, stepIds);
  for (const { file, data, line } of files.findings) {
    for (const key of Object.keys(data.choices))
      need(file, line(['choices', key]), 'value of this finding', key, data.values);
    for (const value of data.values)
      if (!data.choices[value])
        mistakes.push({
          file,
          line: line(['choices']),
          problem: `the value "${value}" has no words`,
          mend: `Add choices.${value}.`,
        });
    for (const key of Object.keys(data.says))
      need(file, line(['says', key]), 'value of this finding', key, data.values);
    for (const other of data.yieldsTo) need(file, line(['yieldsTo']), 'finding', other, [...findings.keys()]);
  }
  for (const step of steps) {
    if (step.healthy) need(step.file, step.line(['healthy']), `value of ${step.id}`, step.healthy, step.values);
    for (const open of step.needs.open) need(step.file, step.line(['needs', 'open']), 'access', open, access);
    for (const other of step.needs.after)
      need(step.file, step.line(['needs', 'after']), 'finding or reading', other, stepIds);
    for (const [finding, rule] of Object.entries(step.applies)) {
      need(step.file, step.line(['applies', finding]), 'finding', finding, [...findings.keys()]);
      const values = findings.get(finding)?.values;
      if (values)
        for (const v of 'in' in rule ? rule.in : rule.not)
          need(step.file, step.line(['applies', finding]), `value of ${finding}`, v, values);
    }
    for (const key of Object.keys(step.likelihood?.rows ?? {}))
      need(step.file, step.line(['likelihood', 'rows', key]), 'fault or system', key, [...faults, ...systems]);
  }
  const { data: witnesses, file: witnessFile, line: witnessLine } = files['witnesses.yaml'];
  for (const [group, { members }] of Object.entries(witnesses)) {
    members.forEach((member, i) => {
      const step = typeof member === 'string' ? member : member.finding;
      const at = witnessLine([group, 'members', i]);
      need(witnessFile, at, 'finding or reading', step, stepIds);
      const values = steps.find((s) => s.id === step)?.values;
      if (typeof member !== 'string' && values)
        for (const v of member.values) need(witnessFile, at, `value of ${step}`, v, values);
    });
  }
  for (const { file, data, line } of files.hazards)
    for (const other of data.stopWith) need(file, line(['stopWith']), 'hazard', other, hazards);
  for (const { file, data, line } of files.lessons) need(file, line(['id']), 'hazard', data.id, [...hazards, ORDINARY]);
  for (const { file, data, line } of files.units)
    if (data.sensor && 'curve' in data.sensor)
      need(
        file,
        line(['sensor', 'curve']),
        'sensor curve',
        data.sensor.curve,
        files.curves.map((c) => c.data.id),
      );
}

function closest(id: string, allowed: readonly string[]): string {
  const start = id.split(/[.-]/)[0] ?? id;
  const near = allowed.filter((a) => a.includes(start)).slice(0, 12);
  return near.length
    ? `Near it: ${near.join(', ')}.`
    : `There are ${allowed.length}; \`thawline knowledge\` lists them.`;
}

function unique(
  places: readonly { file: string; keys: string[]; line: (key: string) => number }[],
  what: string,
  mistakes: Mistake[],
): void {
  const seen = new Map<string, string>();
  for (const place of places)
    for (const key of place.keys) {
      const earlier = seen.get(key);
      if (earlier)
        mistakes.push({
          file: place.file,
          line: place.line(key),
          problem: `the ${what} "${key}" stands in ${earlier} too`,
          mend: 'Keep one of the two.',
        });
      else seen.set(key, place.file);
    }
}
