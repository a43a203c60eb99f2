import type { Component } from 'svelte';
import type { Task } from '../../music/task.ts';
import EarStage from '../components/Stage.svelte';
import type { Piece } from '../engraving/layout.ts';
import ChordStage from './ChordStage.svelte';
import ReadingStage from './ReadingStage.svelte';
import ScaleStage from './ScaleStage.svelte';

/** What the test page shows of a kind of task. One entry a kind: nothing else asks which kind a task is. */
interface TaskPage {
  /** The middle of the page, from the first step to the end of the take. */
  readonly stage: Component<{ test: never }>;
  /** Whether the first note is given, named and sounded. */
  readonly givesFirst: boolean;
  /** Help with what was heard: of no use where nothing is. */
  readonly heard: boolean;
  /** How its music is engraved. */
  piece(task: Task): Partial<Piece>;
}

const EAR: TaskPage = { stage: EarStage, givesFirst: true, heard: true, piece: () => ({}) };
const PAGES: Readonly<Record<Task['kind'], TaskPage>> = {
  melody: EAR,
  rhythm: EAR,
  reading: {
    stage: ReadingStage,
    givesFirst: false,
    heard: false,
    piece: (task) => ({ tab: 'shows' in task && task.shows !== 'staff' }),
  },
  scale: { stage: ScaleStage, givesFirst: false, heard: false, piece: () => ({}) },
  chords: { stage: ChordStage, givesFirst: false, heard: false, piece: () => ({}) },
};

export const pageOf = ({ kind }: Task): TaskPage => PAGES[kind];
