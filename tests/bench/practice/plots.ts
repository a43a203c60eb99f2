import { mkdirSync, writeFileSync } from 'node:fs';
import type { VariantLift } from './lift.ts';

/** Two drawings for the room's README, as plain SVG text. */
const FOLDER = new URL('../../../src/tests-engine/progress/figures/', import.meta.url).pathname;
const INK = '#222';
const SHAPES = ['none', '6 3', '2 3', '8 3 2 3', '1 4', '12 4'];
const text = (x: number, y: number, words: string, more = ''): string =>
  `<text x="${x.toFixed(1)}" y="${y.toFixed(1)}" ${more}>${words.replace(/&/g, '&amp;').replace(/</g, '&lt;')}</text>`;
const svg = (width: number, height: number, title: string, body: readonly string[]): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" font-family="sans-serif" font-size="13" fill="${INK}" role="img"><title>${title}</title>
<rect width="${width}" height="${height}" fill="#fff"/>
${body.join('\n')}
</svg>
`;

/** Mean true chance of a note over sixty tests, one line a policy. */
export function curvePlot({ variant, students, lifts }: VariantLift): string {
  const values = lifts.flatMap(({ curve }) => curve);
  const [low, high] = [Math.min(...values) - 0.005, Math.max(...values) + 0.005];
  const x = (k: number) => 60 + (k * 430) / 6;
  const y = (v: number) => 330 - ((v - low) / (high - low)) * 270;
  const body = [
    text(20, 24, `${variant} (${students} students)`, 'font-weight="bold"'),
    text(20, 44, 'true chance of a note, own level and the two above it', 'font-size="12"'),
    `<path d="M60 60V330H490" fill="none" stroke="${INK}"/>`,
  ];
  for (let k = 0; k <= 6; k++) body.push(text(x(k), 348, String(10 * k), 'text-anchor="middle"'));
  body.push(text(275, 366, 'tests', 'text-anchor="middle"'));
  for (let v = Math.ceil(low * 50) / 50; v <= high; v += 0.02)
    body.push(
      `<path d="M60 ${y(v).toFixed(1)}H490" stroke="#ddd"/>`,
      text(54, y(v) + 4, v.toFixed(2), 'text-anchor="end"'),
    );
  const ends = lifts.map(({ curve }, i) => ({ i, at: y(curve.at(-1)!) })).sort((a, b) => a.at - b.at);
  ends.forEach((one, i) => (one.at = i === 0 ? one.at : Math.max(one.at, ends[i - 1]!.at + 16)));
  lifts.forEach(({ policy, curve }, i) => {
    const path = curve.map((v, k) => `${k ? 'L' : 'M'}${x(k).toFixed(1)} ${y(v).toFixed(1)}`).join('');
    const width = policy === 'adaptive' ? 3 : 1.5;
    body.push(
      `<path d="${path}" fill="none" stroke="${INK}" stroke-width="${width}" stroke-dasharray="${SHAPES[i]}"/>`,
    );
    const weight = policy === 'adaptive' ? 'font-weight="bold"' : '';
    body.push(text(498, ends.find((one) => one.i === i)!.at + 4, policy, weight));
  });
  return svg(680, 380, `Learning curves: ${variant}`, body);
}

/** Adaptive minus each random policy with its 95 % interval, one row a kind of student. */
export function leadPlot(panel: readonly VariantLift[]): string {
  const policies = panel[0]!.lifts.map(({ policy }) => policy).filter((policy) => policy !== 'adaptive');
  const top = 60;
  const height = top + panel.length * 22 + 40;
  const all = panel.flatMap(({ lifts }) =>
    lifts.flatMap(({ lead: { ahead } }) => [ahead.mean - ahead.half, ahead.mean + ahead.half]),
  );
  const [low, high] = [Math.min(...all, -1), Math.max(...all, 1)];
  const body = [
    text(12, 22, 'Adaptive minus random: notes of 100 gained in 60 tests (95 %)', 'font-weight="bold"'),
  ];
  policies.forEach((policy, column) => {
    const from = 220 + column * 170;
    const x = (v: number) => from + ((v - low) / (high - low)) * 150;
    body.push(text(from + 75, 46, policy.replace('random, ', ''), 'text-anchor="middle"'));
    body.push(`<path d="M${x(0).toFixed(1)} ${top - 6}V${height - 34}" stroke="#999"/>`);
    for (let v = Math.ceil(low); v <= high; v += 2)
      body.push(text(x(v), height - 16, String(v), 'text-anchor="middle" font-size="11"'));
    panel.forEach(({ lifts }, row) => {
      const { mean, half } = lifts.find((lift) => lift.policy === policy)!.lead.ahead;
      const y = top + 10 + row * 22;
      body.push(
        `<path d="M${x(mean - half).toFixed(1)} ${y}H${x(mean + half).toFixed(1)}" stroke="${INK}" stroke-width="2"/>`,
        `<circle cx="${x(mean).toFixed(1)}" cy="${y}" r="4" fill="${mean - half > 0 ? INK : '#fff'}" stroke="${INK}"/>`,
      );
    });
  });
  panel.forEach(({ variant }, row) => body.push(text(12, top + 14 + row * 22, variant)));
  return svg(220 + policies.length * 170 + 10, height, 'Lead of the adaptive choice', body);
}

export function draw(panel: readonly VariantLift[]): void {
  mkdirSync(FOLDER, { recursive: true });
  writeFileSync(`${FOLDER}curves.svg`, curvePlot(panel[0]!));
  writeFileSync(`${FOLDER}leads.svg`, leadPlot(panel));
}
