import { mount } from 'svelte';
import '../../../src/ui/styles/fonts.css';
import '../../../src/ui/styles/tokens.css';
import Score from '../../../src/ui/components/Score.svelte';
import { loadEngraver } from '../../../src/ui/engraving/load.ts';
import { pieceOf } from '../../../src/ui/piece.ts';
import { writtenAs } from '../../../src/ui/tasks/writtenAs.ts';
import { makeReading } from '../../../src/tests-engine/index.ts';

/** Engraves pages of a level, as they are prepared from, each under its seed: `?level=3&from=0&count=12&instrument=bass&shows=both`. */
const asked = new URLSearchParams(location.search);
const number = (name: string): number => Number(asked.get(name));
const target = document.getElementById('pages')!;
await loadEngraver();
for (let seed = number('from'); seed < number('from') + number('count'); seed++) {
  const task = makeReading({
    level: number('level'),
    seed,
    instrument: asked.get('instrument') === 'bass' ? 'bass' : 'guitar',
    shows: asked.get('shows') === 'staff' ? 'staff' : 'both',
  });
  const figure = target.appendChild(document.createElement('section'));
  const { key, tempoBpm, positions } = task;
  const hands = positions.map(({ bar, fret }) => `${fret} from bar ${bar + 1}`).join(', ');
  figure.appendChild(document.createElement('h2')).textContent =
    `level ${task.level} seed ${seed}, ${key.tonic} ${key.scale}, ${tempoBpm} bpm, hand at fret ${hands}`;
  mount(Score, {
    target: figure,
    props: { piece: pieceOf(task, writtenAs(task)), label: `seed ${seed}`, minBarWidth: 170, scale: 0.9 },
  });
}
// After the lines are drawn: the width of each is known one picture later.
requestAnimationFrame(() => requestAnimationFrame(() => document.body.classList.add('drawn')));
