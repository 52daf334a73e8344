/** The JSON Schemas of the knowledge files, by which an editor completes and checks them; made from the program's own. */
import { z } from 'zod';
import { curveFile } from '../../src/knowledge/curve-schema.js';
import { defrostFile, placesFile } from '../../src/knowledge/frost-schema.js';
import { hearingFile, lessonFile } from '../../src/knowledge/lesson-schema.js';
import * as schema from '../../src/knowledge/schema.js';
import { studyFile } from '../../src/knowledge/study-schema.js';
import { unitFile } from '../../src/knowledge/unit-schema.js';
import { waitsFile } from '../../src/knowledge/waits-schema.js';

const FILES: Readonly<Record<string, z.ZodType>> = {
  fault: schema.faultFile,
  finding: schema.findingFile,
  reading: schema.readingFile,
  hazard: schema.hazardFile,
  topic: schema.topicFile,
  curve: curveFile,
  unit: unitFile,
  language: schema.conceptsFile,
  words: schema.wordsFile,
  sentences: schema.sentencesFile,
  systems: schema.systemsFile,
  access: schema.accessFile,
  costs: schema.costsFile,
  witnesses: schema.witnessesFile,
  scale: schema.scaleFile,
  sources: schema.sourcesFile,
  places: placesFile,
  defrost: defrostFile,
  waits: waitsFile,
  study: studyFile,
  lesson: lessonFile,
  hearing: hearingFile,
};

export const schemaTexts = (): Map<string, string> =>
  new Map(
    Object.entries(FILES).map(([name, file]) => [
      `${name}.schema.json`,
      `${JSON.stringify(z.toJSONSchema(file, { io: 'input', unrepresentable: 'any' }), null, 1)}\n`,
    ]),
  );
