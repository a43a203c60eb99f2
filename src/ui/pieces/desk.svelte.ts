import type { Sound } from '../../audio/types.ts';
import { isMidi, pieceFromMidi, pieceFromMusicXml, TwoVoices } from '../../exchange/index.ts';
import type { ImportedPiece } from '../../exchange/index.ts';
import type { PiecePassage } from '../../music/piece.ts';
import type { Key } from '../../music/score.ts';
import type { PieceTask } from '../../music/task.ts';
import { feltBeats, makePieceTask, METRES, type MetreName } from '../../tests-engine/index.ts';
import { t } from '../messages.ts';
import { refusalText } from '../refusalText.ts';
import { tried } from '../refused.ts';
import { tuningOf } from '../settings/tuningOf.ts';
import { settings } from '../settings/settings.svelte.ts';
import { ears } from '../state/ears.svelte.ts';
import { tapped } from './taps.ts';

const MOST_SEC = 900;
const LEAST_SEC = 3;
/** Under this share of beats on the grid the beat is not even: it is better tapped. */
const EVEN = 0.6;
/** What is on the page while nothing is known. */
const FIRST_BPM = 100;

interface Track {
  readonly id: string;
  readonly name: string;
  readonly durationSec: number;
  readonly bytes: Uint8Array<ArrayBuffer>;
}

const plainName = (name: string): string =>
  name
    .replace(/\.[^.]{1,8}$/, '')
    .replace(/[_-]+/g, ' ')
    .trim();

/** The piece on the page: its recording, its notes, where they meet, and which of its bars are to be played. */
class PieceDesk {
  track = $state.raw<Track | null>(null);
  part = $state.raw<ImportedPiece | null>(null);
  /** Voices to choose from, where two sound at once and none was chosen yet. */
  voices = $state(0);
  metre = $state<MetreName>('4/4');
  /** Where bar 1 begins, s, and its beats a minute; null where no beat was found. */
  grid = $state.raw<{ readonly barOneSec: number; readonly beatBpm: number; readonly even: boolean } | null>(
    null,
  );
  taps = $state.raw<readonly number[]>([]);
  passage = $state.raw<PiecePassage | null>(null);
  percent = $state(100);
  problem = $state('');
  listening = $state(false);
  /** A piece that is to be played again, whose recording is not here. */
  missing = $state.raw<PieceTask | null>(null);
  #partFile: { readonly bytes: Uint8Array<ArrayBuffer>; readonly name: string } | null = null;

  get #form() {
    return this.part?.metre ?? METRES[this.metre];
  }

  /** Crotchets in a felt beat. */
  get #quarters(): number {
    const { beatUnit, grouping } = this.#form;
    return beatUnit >= 8 ? ((grouping[0] ?? 2) * 4) / beatUnit : 4 / beatUnit;
  }

  /** What the part that is read is called. */
  partName = $state('');

  /** Takes a recording; a sentence in `problem` where it cannot. */
  async bring(bytes: Uint8Array<ArrayBuffer>, name: string): Promise<void> {
    this.problem = '';
    const sound = await ears.open();
    const brought = await sound.tracks.bring(bytes);
    if (!brought) return void (this.problem = t('piece.not-sound'));
    if (brought.durationSec > MOST_SEC) return void (this.problem = t('piece.too-long'));
    if (brought.durationSec < LEAST_SEC) return void (this.problem = t('piece.too-short'));
    const again = this.missing;
    this.track = { ...brought, name: plainName(name), bytes };
    this.taps = [];
    this.missing = null;
    if (again && again.track.id === brought.id) return this.#takeUp(again);
    if (again) this.problem = t('piece.other-file');
    this.passage = null;
    this.percent = 100;
    await this.find();
  }

  /** A piece played before, with the recording that is here again. */
  #takeUp(task: PieceTask): void {
    this.passage = task.passage;
    this.percent = Math.round((100 * task.tempoBpm) / task.track.bpm);
    this.part = task.part
      ? {
          title: task.title,
          metre: task.phrase.metre,
          fifths: null,
          minor: false,
          bars: task.bars,
          notes: task.part,
          tempi: task.tempi.map((mark) => ({ ...mark, bpm: (mark.bpm * task.track.bpm) / task.tempoBpm })),
          swing: task.swing,
          parts: [],
          voices: 1,
          octaves: 0,
        }
      : null;
    this.#key = task.key;
    this.grid = { barOneSec: task.track.barOneSec, beatBpm: task.track.bpm / this.#quarters, even: true };
  }

  #key: Key | null = null;

  /** Takes the notes of a file. */
  async bringPart(bytes: Uint8Array<ArrayBuffer>, name: string): Promise<void> {
    this.#partFile = { bytes, name };
    await this.readPart({});
  }

  /** Reads the file of notes again with another of its parts or voices. */
  async readPart(choice: { readonly part?: number; readonly voice?: number }): Promise<void> {
    const file = this.#partFile;
    if (!file) return;
    this.problem = '';
    this.voices = 0;
    const { instrument } = settings.now;
    const read = isMidi(file.bytes) ? pieceFromMidi : pieceFromMusicXml;
    const found = tried(() => {
      try {
        return read(file.bytes, { instrument, tuning: tuningOf(settings.now).strings, ...choice });
      } catch (error) {
        if (error instanceof TwoVoices) this.voices = error.voices;
        throw error;
      }
    });
    if ('refused' in found) return void (this.problem = refusalText(found.refused));
    this.part = found.read;
    this.partName = this.part.parts[choice.part ?? 0] ?? '';
    this.#key = null;
    this.passage = null;
    if (this.track) await this.find();
  }

  dropPart(): void {
    this.part = null;
    this.voices = 0;
    this.#partFile = null;
    this.passage = null;
  }

  /** Listens for tempo and bar 1, near what was tapped and what the notes say. */
  async find(): Promise<void> {
    const { track } = this;
    if (!track) return;
    const sound = await ears.open();
    const said = tapped(this.taps);
    const written = this.part?.tempi[0]?.bpm;
    const around = said?.bpm ?? (written === undefined ? undefined : written / this.#quarters);
    this.listening = true;
    try {
      const found = await sound.tracks.findBeats(track.id, {
        beatsPerBar: feltBeats(this.#form).length,
        ...(around === undefined ? {} : { aroundBpm: around }),
        ...(said ? { nearSec: said.nearSec } : {}),
      });
      if (found) this.grid = { barOneSec: found.barOneSec, beatBpm: found.bpm, even: found.evenness >= EVEN };
      else if (said) this.grid = { barOneSec: said.nearSec, beatBpm: said.bpm ?? FIRST_BPM, even: true };
      else this.grid = null;
    } finally {
      this.listening = false;
    }
  }

  /** The piece as a task; null while something is missing. */
  task(passage: PiecePassage | null = this.passage, percent = this.percent): PieceTask | null {
    const { track, grid, part } = this;
    if (!track || !grid) return null;
    const { instrument } = settings.now;
    const file = { id: track.id, name: track.name, durationSec: track.durationSec };
    try {
      return makePieceTask({
        instrument,
        tuning: tuningOf(settings.now).strings,
        title: part?.title ?? track.name,
        track: { ...file, barOneSec: grid.barOneSec, bpm: grid.beatBpm * this.#quarters },
        part,
        metre: this.#form,
        key: this.#key ?? keyOf(part),
        passage,
        tempoFactor: percent / 100,
      });
    } catch (error) {
      if (error instanceof RangeError) return null;
      throw error;
    }
  }

  get sound(): Sound | null {
    return ears.sound;
  }
}

const SHARPS = ['C', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#'];
const FLATS = ['C', 'F', 'Bb', 'Eb', 'Ab', 'Db', 'Gb', 'Cb'];
const MINOR_SHARPS = ['A', 'E', 'B', 'F#', 'C#', 'G#', 'D#', 'A#'];
const MINOR_FLATS = ['A', 'D', 'G', 'C', 'F', 'Bb', 'Eb', 'Ab'];

/** The key that a signature says; C major where there is none. */
function keyOf(part: ImportedPiece | null): Key {
  const fifths = part?.fifths ?? 0;
  const names = part?.minor ? (fifths < 0 ? MINOR_FLATS : MINOR_SHARPS) : fifths < 0 ? FLATS : SHARPS;
  return { tonic: names[Math.abs(fifths)] ?? 'C', scale: part?.minor ? 'minor' : 'major' };
}

export const pieceDesk = new PieceDesk();
