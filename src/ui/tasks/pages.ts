import type { Component } from 'svelte';
import type { Task } from '../../music/task.ts';
import EarStage from '../components/Stage.svelte';
import type { Marked } from '../session/types.ts';
import type { Piece } from '../engraving/layout.ts';
import ChordStage from './ChordStage.svelte';
import ImprovisingStage from './ImprovisingStage.svelte';
import MarkedPiece from './MarkedPiece.svelte';
import PieceStage from './PieceStage.svelte';
import ReadingStage from './ReadingStage.svelte';
import ScaleFacts from './ScaleFacts.svelte';
import ScaleStage from './ScaleStage.svelte';
import { writtenAs } from './writtenAs.ts';

/** What the test page shows of a kind of task. One entry a kind: nothing else asks which kind a task is. */
interface TaskPage {
  /** The middle of the page, from the first step to the end of the take. */
  readonly stage: Component<{ test: never }>;
  /** Whether key and first note are given, named and sounded. */
  readonly givesFirst: boolean;
  /** Read as a page on a stand is: what stands below it takes one line. */
  readonly onStand?: true;
  /** Help with what was heard: of no use where nothing is. */
  readonly heard: boolean;
  /** What is told of a take beside its mark. */
  readonly told?: Component<{ marked: Pick<Marked, 'test' | 'take' | 'mark'> }>;
  /** Marked by the teacher's own lines. */
  readonly rubric?: true;
  /** Whether it can be taken by halves. */
  readonly halves: boolean;
  /** How its music is engraved. */
  piece(task: Task): Partial<Piece>;
}

const EAR: TaskPage = { stage: EarStage, givesFirst: true, heard: true, halves: true, piece: () => ({}) };
const PAGES: Readonly<Record<Task['kind'], TaskPage>> = {
  melody: EAR,
  rhythm: EAR,
  improvising: {
    stage: ImprovisingStage,
    givesFirst: false,
    heard: false,
    halves: false,
    rubric: true,
    piece: () => ({}),
  },
  reading: {
    stage: ReadingStage,
    givesFirst: false,
    onStand: true,
    heard: false,
    halves: true,
    piece: (task) => ('shows' in task ? writtenAs(task) : {}),
  },
  scale: {
    stage: ScaleStage,
    givesFirst: false,
    onStand: true,
    heard: false,
    halves: true,
    told: ScaleFacts,
    piece: () => ({}),
  },
  piece: {
    stage: PieceStage,
    givesFirst: false,
    heard: false,
    halves: false,
    told: MarkedPiece,
    rubric: true,
    piece: () => ({}),
  },
  chords: { stage: ChordStage, givesFirst: false, heard: false, halves: false, piece: () => ({}) },
};

export const pageOf = ({ kind }: Task): TaskPage => PAGES[kind];
