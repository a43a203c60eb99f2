import { appendFileSync, existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { loadBanks } from '../../../audio-fixtures/index.ts';
import { makeScene } from '../../../audio-fixtures/bleed/scene.ts';
import { cancelBacking } from '../../../src/dsp/bleed/index.ts';
import { analyseOver } from '../../../src/dsp/bleed/overAnalysis.ts';
import { WORK_RATE } from '../../../src/dsp/signal/prepared.ts';
import { CONDITIONS } from '../bleed/conditions.ts';
import { soundTest } from '../bleed/sent.ts';
import { labels } from './label.ts';

/**
 * Collects what scenes teach the decision over a backing, one JSON line a scene, resumable:
 *   npx tsx tests/bench/fit/over.ts collect FILE FROM TO
 */
const [, , , file, from, to] = process.argv;
const LEAD_SEC = 0.15;
const path = resolve(file);
const done = new Set(
  existsSync(path)
    ? readFileSync(path, 'utf8')
        .trim()
        .split('\n')
        .map((line) => JSON.parse(line).scene as number)
    : [],
);
const banks = (await loadBanks()).all.filter(
  (b) => b.instrument === 'guitar' && !/muted|distorted/.test(b.name),
);
for (let scene = Number(from); scene < Number(to); scene++) {
  if (done.has(scene)) continue;
  const condition = CONDITIONS[scene % CONDITIONS.length];
  const bank = banks[(scene * 7) % banks.length];
  const sent = await soundTest(50_000 + scene);
  const made = makeScene(sent, bank, 90_000 + scene, condition.is);
  const start = made.fromSec - LEAD_SEC;
  const cancelled = cancelBacking(made.recording, made.reference, made.sampleRate, start);
  if (!cancelled) continue;
  const { possible, leftoverDb } = analyseOver(cancelled);
  const found = labels(
    possible.map((p) => p.attack.at / WORK_RATE + start),
    made.truth.map((t) => t.onsetSec),
  );
  const examples = possible.flatMap((p, i) =>
    found[i] === null ? [] : [{ features: [...p.features], label: found[i], weight: 1 }],
  );
  appendFileSync(
    path,
    `${JSON.stringify({ scene, condition: condition.name, bank: bank.name, truth: made.truth.length, leftoverDb, examples })}\n`,
  );
}
