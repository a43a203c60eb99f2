/**
 * Every screen at three sizes, light and dark, and every print on A4 and Letter, as pictures and sheets to look at:
 * `npm run contact-sheets [-- FOLDER [NAME …]]`; default `.cache/contact-sheets`, all screens. NAME: part of a stop's name.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { serveBuiltApp, type ServedApp } from '../e2e/app.ts';
import build, { ROOT } from '../e2e/build.ts';
import { PARTS, tour, type Part } from '../tour/tour.ts';

const SIZES = [
  { width: 1280, height: 800 },
  { width: 390, height: 844 },
  { width: 844, height: 390 },
];
const SCHEMES = ['light', 'dark'] as const;
/** Screens that are printed by a button, and on which papers. */
const PRINTED = /result|attempt|sheet|progress|student|parents/;
/** As many as can be told apart on one sheet. */
const PER_SHEET = 12;
const PAPERS = ['A4', 'Letter'] as const;

const [folder = '.cache/contact-sheets', ...wanted] = process.argv.slice(2);
const out = resolve(ROOT, folder);
mkdirSync(out, { recursive: true });
/** Names that begin with their number say which parts of the walk are needed. */
const parts = (Object.keys(PARTS) as Part[]).filter(
  (part) => wanted.length === 0 || wanted.some((one) => !/^\d/.test(one) || PARTS[part].test(one)),
);
const fits = (name: string): boolean => wanted.length === 0 || wanted.some((one) => name.includes(one));

/** All pictures of one size and scheme side by side on one page, each with its name. */
async function sheet(
  app: ServedApp,
  name: string,
  pictures: readonly string[],
  width: number,
): Promise<void> {
  const page = await app.browser.newPage({ viewport: { width: 1800, height: 1000 } });
  const across = width < 400 ? 6 : 4;
  const cells = pictures.map((file) => {
    const data = readFileSync(join(out, file)).toString('base64');
    return `<figure><img src="data:image/png;base64,${data}"><figcaption>${file}</figcaption></figure>`;
  });
  await page.setContent(
    `<style>body{margin:12px;font:13px sans-serif;display:grid;grid-template-columns:repeat(${across},1fr);gap:12px;
    align-items:start;background:#888}figure{margin:0}img{width:100%;max-height:900px;object-fit:cover;object-position:top}</style>${cells.join('')}`,
  );
  await page.screenshot({ path: join(out, `sheet-${name}.png`), fullPage: true });
  await page.close();
}

await build();
const app = await serveBuiltApp({ pace: 1 });
try {
  for (const viewport of SIZES) {
    const size = `${viewport.width}x${viewport.height}`;
    const pictures: Record<string, string[]> = { light: [], dark: [] };
    for await (const { name, page, brief } of tour(app, { viewport, parts })) {
      if (!fits(name)) continue;
      for (const scheme of SCHEMES) {
        await page.emulateMedia({ colorScheme: scheme });
        const file = `${name.replace(/[ ,]+/g, '-')}-${size}-${scheme}.png`;
        // What moves on is taken as it stands in the window, the rest as long as it is.
        await page.screenshot({ path: join(out, file), fullPage: !brief });
        pictures[scheme]!.push(file);
      }
      await page.emulateMedia({ colorScheme: null });
      const { height } = await page.evaluate(() => ({ height: document.documentElement.scrollHeight }));
      console.log(`${size} ${name}: ${height} px, ${(height / viewport.height).toFixed(1)} screens`);
      if (viewport.width === 1280 && PRINTED.test(name))
        for (const paper of PAPERS)
          writeFileSync(
            join(out, `print-${name.replace(/[ ,]+/g, '-')}-${paper}.pdf`),
            await page.pdf({ format: paper, preferCSSPageSize: false }),
          );
    }
    for (const scheme of SCHEMES)
      for (let from = 0; from < pictures[scheme]!.length; from += PER_SHEET) {
        const some = pictures[scheme]!.slice(from, from + PER_SHEET);
        await sheet(app, `${size}-${scheme}-${1 + from / PER_SHEET}`, some, viewport.width);
      }
  }
} finally {
  await app.close();
}
